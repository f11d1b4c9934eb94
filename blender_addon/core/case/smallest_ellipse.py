"""The smallest ellipse round one set of points, exactly: linear conditions, solved from inside."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .ellipse import blown_up

if TYPE_CHECKING:
    from ..arrays import Floats

_ROUNDS = 60
_EXACT = 1e-8
_CENTERING = 0.1
_SHORT_OF_BORDER = 0.95
_LIFTED = 3.0
_PLACES = ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))
_UNITS = np.zeros((len(_PLACES), 3, 3))
for _k, (_i, _j) in enumerate(_PLACES):
    _UNITS[_k, _i, _j] = _UNITS[_k, _j, _i] = 1.0


def smallest_ellipse(points: Floats) -> Floats:
    """Return the smallest ellipse round points (n, 2) that do not lie on one line, never too small.

    Lifted by 1 into space, the points q lie in the ellipsoid q'Mq <= 1 about the origin. Its volume
    is least where each has a share u >= 0 with u (1 - q'Mq) = 0, and the shares' sum of uqq' is the
    inverse of M. Newton steps go there while these products shrink towards 0, all at one pace.

    Returns
    -------
    ndarray, shape (3, 2)
        Two rows that turn the unit circle's x and y into the ellipse's, then its middle.

    References
    ----------
    .. [1] Sun, Freund: Computation of minimum-volume covering ellipsoids, Operations Research 52
       (2004) 690, sections 2 and 4.

    Examples
    --------
    >>> box = np.array([[-2, -1], [2, -1], [2, 1], [-2, 1]], float)
    >>> (smallest_ellipse(box) ** 2).round(6).tolist()
    [[8.0, 0.0], [0.0, 2.0], [0.0, 0.0]]
    """
    rows = _conditions(points)
    share = np.full(len(rows), _LIFTED / len(rows))
    form = np.repeat([0.9, 0.0], 3) / rows[:, :3].sum(axis=1).max()
    for _ in range(_ROUNDS):
        spare = 1.0 - rows @ form
        inverse = np.linalg.inv(np.tensordot(form, _UNITS, 1))
        off = share @ rows - np.einsum("kij,ji->k", _UNITS, inverse)
        left = share @ spare
        if max(left, np.abs(off).max()) < _EXACT:
            break
        turned = inverse @ _UNITS
        bend = np.einsum("kij,lji->kl", turned, turned) + (rows.T * (share / spare)) @ rows
        aim = _CENTERING * left / len(rows) / spare - share
        step = np.linalg.solve(bend, -off - aim @ rows)
        closes = rows @ step
        grows = aim + share / spare * closes
        root = np.linalg.cholesky(inverse)
        shrinks = np.linalg.eigvalsh(root.T @ np.tensordot(step, _UNITS, 1) @ root)
        fastest = max((closes / spare).max(), (-grows / share).max(), -shrinks[0])
        pace = 1.0 / max(1.0, fastest / _SHORT_OF_BORDER)
        form, share = form + pace * step, share + pace * grows
    ellipse: Floats = blown_up(points[None], share[None] / share.sum())[0][0]
    return ellipse


def _conditions(points: Floats) -> Floats:
    """Return what the six numbers of M are multiplied by in q'Mq, (n, 6).

    The points are first made as wide as they are deep: which lie on the ellipse stays the same.
    """
    here = points - points.mean(axis=0)
    spread = here.T @ here / len(here)
    x, y = np.linalg.solve(np.linalg.cholesky(spread), here.T)
    one = np.ones_like(x)
    rows: Floats = np.column_stack([x * x, y * y, one, 2.0 * x * y, 2.0 * x, 2.0 * y])
    return rows
