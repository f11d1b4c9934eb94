"""Small ellipses round many sets of points at once, quickly."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .sector import unit_vectors

if TYPE_CHECKING:
    from ..arrays import Floats

_ROUNDS = 60
_ENOUGH = 1e-4
_LIFTED = 3.0


def ellipses_round(points: Floats) -> tuple[Floats, Floats]:
    """Return a small ellipse round each set of points, and its area: a few percent too large.

    Each point gets a share of the whole; shares move to the point farthest out and away from the
    one farthest in, until those that are left lie on the ellipse. It is then blown up until none
    lies outside, so it is never too small.

    Parameters
    ----------
    points : ndarray, shape (m, n, 2)
        Sets of points that do not lie on one line.

    Returns
    -------
    ndarray, shape (m, 3, 2)
        Two rows that turn the unit circle's x and y into the ellipse's, then its middle.
    ndarray, shape (m,)
        Areas.

    References
    ----------
    .. [1] Todd, Yildirim: On Khachiyan's algorithm for the computation of minimum-volume enclosing
       ellipsoids, Discrete Applied Mathematics 155 (2007) 1731.

    Examples
    --------
    >>> square = np.array([[[-1, -1], [1, -1], [1, 1], [-1, 1]]], float)
    >>> float(ellipses_round(square)[1][0] / np.pi)
    2.0
    """
    share = _first_shares(points)
    lifted = np.concatenate([points, np.ones((*points.shape[:2], 1))], axis=2)
    rows = np.arange(len(points))
    for _ in range(_ROUNDS):
        spread = np.einsum("mn,mni,mnj->mij", share, lifted, lifted)
        off = np.einsum("mni,mij,mnj->mn", lifted, np.linalg.inv(spread), lifted)
        out, kept = off.argmax(axis=1), np.where(share > 0.0, off, np.inf).argmin(axis=1)
        most, least = off[rows, out], off[rows, kept]
        if max((most - _LIFTED).max(), (_LIFTED - least).max()) < _ENOUGH:
            break
        grows = most - _LIFTED >= _LIFTED - least
        chosen, value = np.where(grows, out, kept), np.where(grows, most, least)
        step = (value - _LIFTED) / (_LIFTED * (value - 1.0))
        own = share[rows, chosen]
        lost = own / np.maximum(1.0 - own, 1e-12)
        step = np.maximum(step, -lost)
        share *= (1.0 - step)[:, None]
        share[rows, chosen] += step
        share[rows, chosen] = np.where(step <= -lost, 0.0, share[rows, chosen])
    return blown_up(points, share)


def _first_shares(points: Floats) -> Floats:
    """Return shares (m, n) of the points that lie farthest out in eight directions."""
    outermost = (points @ unit_vectors(np.arange(0.0, 360.0, 45.0)).T).argmax(axis=1)
    share = np.zeros(points.shape[:2])
    np.put_along_axis(share, outermost, 1.0, axis=1)
    shares: Floats = share / share.sum(axis=1)[:, None]
    return shares


def blown_up(points: Floats, share: Floats) -> tuple[Floats, Floats]:
    """Return the ellipse that shares (m, n) of points (m, n, 2) make, with no point outside of it.

    As `ellipses_round` does.
    """
    middle = np.einsum("mn,mni->mi", share, points)
    here = points - middle[:, None]
    spread = 2.0 * np.einsum("mn,mni,mnj->mij", share, here, here)
    far2 = np.einsum("mni,mij,mnj->mn", here, np.linalg.inv(spread), here).max(axis=1)
    turns = np.linalg.cholesky(spread * far2[:, None, None])
    area: Floats = np.pi * np.linalg.det(turns)
    return np.concatenate([turns, middle[:, None]], axis=1), area
