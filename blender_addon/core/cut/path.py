"""Where the knife meets the piece: up its back, in the plane of the pour channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import SEAM_GIRTH_SHARE, SEAM_MOST_MM
from ..geometry.sections import Sections

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats


def ring_of(outlines: Sequence[Floats]) -> Floats:
    """Return the sides (k, 2, 2) of closed polygons (n, 2)."""
    sides = [np.stack([line, np.roll(line, -1, axis=0)], axis=1) for line in outlines]
    return np.concatenate(sides) if sides else np.zeros((0, 2, 2))


def seam_top_mm(
    heights_mm: Floats, girths_mm: Floats, riser_girth_mm: float, riser_mm: float
) -> float:
    """Return where the piece first has the girth of its riser, up to which wax seals its base.

    The base of a real piece is not quite flat: just above the riser a level line meets but a few
    spots of it, and no rubber gets between them.

    Parameters
    ----------
    heights_mm, girths_mm : ndarray, shape (n,)
        Of the piece alone, ascending.
    riser_girth_mm : float
        Of the riser.
    riser_mm : float
        Height of the riser.

    Examples
    --------
    >>> heights, girths = np.array([6.0, 6.5, 7.0, 9.0]), np.array([3.0, 80.0, 97.0, 60.0])
    >>> seam_top_mm(heights, girths, 100.0, 6.0)
    7.0
    """
    full = (girths_mm >= SEAM_GIRTH_SHARE * riser_girth_mm) & (heights_mm >= riser_mm)
    near = full & (heights_mm <= riser_mm + SEAM_MOST_MM)
    return float(heights_mm[np.argmax(near)]) if near.any() else riser_mm


def on_riser(own: Sections, ring: Floats, top_mm: float) -> Sections:
    """Return the level lines of a piece with those of its riser, the same at all heights below."""
    low = int(np.searchsorted(own.heights_mm, top_mm))
    level = np.concatenate([np.repeat(np.arange(low), len(ring)), own.level])
    segments = np.concatenate([np.tile(ring, (low, 1, 1)), own.segments])
    order = np.argsort(level, kind="stable")
    return Sections(own.heights_mm, level[order], segments[order])


def back_points_mm(sections: Sections, at_x_mm: float) -> Floats:
    """Return the rearmost point of every section at a given x.

    Where the section lies beside that x altogether, its point nearest to it.

    Parameters
    ----------
    sections : Sections
        Of n planes.
    at_x_mm : float
        Where the knife comes in from the back (+y).

    Returns
    -------
    ndarray, shape (n, 3)
        On the surface, NaN in x and y where the plane meets nothing.
    """
    count = len(sections.heights_mm)
    points = np.full((count, 3), np.nan)
    points[:, 2] = sections.heights_mm
    for number in range(count):
        segments = sections.at(number)
        if len(segments):
            points[number, :2] = _back_point(segments, at_x_mm)
    return points


def _back_point(segments: Floats, at_x_mm: float) -> tuple[float, float]:
    x = segments[:, :, 0]
    crossing = (x[:, 0] - at_x_mm) * (x[:, 1] - at_x_mm) <= 0.0
    if not crossing.any():
        flat = segments.reshape(-1, 2)
        off = np.abs(flat[:, 0] - at_x_mm)
        nearest = flat[off == off.min()]
        rearmost = nearest[np.argmax(nearest[:, 1])]
        return float(rearmost[0]), float(rearmost[1])
    return at_x_mm, float(rearmost_mm(segments[crossing], at_x_mm, at_x_mm))


def rearmost_mm(segments: Floats, low_x_mm: float, high_x_mm: float) -> float:
    """Return the largest y of segments (k, 2, 2) within a band of x, minus infinity if none is.

    Examples
    --------
    >>> slope = np.array([[[0.0, 0.0], [10.0, 20.0]]])
    >>> rearmost_mm(slope, 2.0, 3.0), rearmost_mm(slope, 11.0, 12.0)
    (6.0, -inf)
    """
    x, y = segments[:, :, 0], segments[:, :, 1]
    met = (x.min(axis=1) <= high_x_mm) & (x.max(axis=1) >= low_x_mm)
    x, y = x[met], y[met]
    run = x[:, 1] - x[:, 0]
    ends = np.clip(x, low_x_mm, high_x_mm)
    share = np.divide(ends - x[:, :1], run[:, None], out=np.zeros_like(x), where=run[:, None] != 0)
    share[run == 0.0, 1] = 1.0  # a segment along y is met from end to end
    return float(np.max(y[:, :1] + share * (y[:, 1] - y[:, 0])[:, None], initial=-np.inf))
