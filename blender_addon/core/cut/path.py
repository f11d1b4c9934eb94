"""Where the knife meets the piece: a line on its surface, a point for each height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import CONTACT_MM, SEAM_GIRTH_SHARE, SEAM_MOST_MM
from ..geometry.sections import Sections

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats, Ints


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


def by_height(line_mm: Floats, heights_mm: Floats) -> Floats:
    """Return where a line over a surface last rises through each height.

    Parameters
    ----------
    line_mm : ndarray, shape (n, 3)
        From the base up, though it may go down here and there.
    heights_mm : ndarray, shape (k,)
        Ascending; below the line's start its start counts, above its top its end.

    Returns
    -------
    ndarray, shape (k, 3)

    Examples
    --------
    >>> over_a_brim = np.array([[1.0, 0, 0], [1, 0, 4], [3, 0, 2], [3, 0, 6]])
    >>> by_height(over_a_brim, np.array([1.0, 3.0]))[:, 0].tolist()
    [1.0, 3.0]
    """
    first, share = last_rise(line_mm, heights_mm)
    plan = line_mm[first, :2] + share[:, None] * (line_mm[first + 1, :2] - line_mm[first, :2])
    return np.column_stack([plan, heights_mm])


def last_rise(line_mm: Floats, heights_mm: Floats) -> tuple[Ints, Floats]:
    """Return the step of a line (n, 3) in which it last rises through each height, and how far in.

    The latter from 0 to 1; as `by_height` counts below the line's start and above its top.
    """
    z = line_mm[:, 2]
    lowest_ahead = np.minimum.accumulate(z[::-1])[::-1]
    first = np.clip(np.searchsorted(lowest_ahead, heights_mm, side="left") - 1, 0, len(z) - 2)
    rise = z[first + 1] - z[first]
    share = np.divide(heights_mm - z[first], rise, out=np.zeros(len(first)), where=rise != 0.0)
    return first, np.clip(share, 0.0, 1.0)


def contact_mm(point: Floats, segments: Floats, reach_mm: float = CONTACT_MM) -> Floats:
    """Return the point of some segments (k, 2, 2) that is nearest to a point (2,).

    The point itself where none is within reach.

    Examples
    --------
    >>> wall = np.array([[[-5.0, 4.0], [5.0, 4.0]]])
    >>> contact_mm(np.array([1.0, 3.5]), wall).tolist()
    [1.0, 4.0]
    """
    if not len(segments):
        return point
    start, along = segments[:, 0], segments[:, 1] - segments[:, 0]
    length = np.maximum(np.einsum("ij,ij->i", along, along), np.finfo(float).tiny)
    share = np.clip(np.einsum("ij,ij->i", point - start, along) / length, 0.0, 1.0)
    spots: Floats = start + share[:, None] * along
    off = np.linalg.norm(spots - point, axis=1)
    nearest = int(off.argmin())
    return spots[nearest] if off[nearest] <= reach_mm else point


def rearmost_mm(segments: Floats, low_x_mm: float, high_x_mm: float) -> float:
    """Return the largest y of segments (k, 2, 2) within a band of x, minus infinity if none is.

    Examples
    --------
    >>> slope = np.array([[[0.0, 0.0], [10.0, 20.0]]])
    >>> rearmost_mm(slope, 2.0, 3.0), rearmost_mm(slope, 11.0, 12.0)
    (6.0, -inf)
    """
    begin, end = segments[:, 0, 0], segments[:, 1, 0]
    met = (np.minimum(begin, end) <= high_x_mm) & (np.maximum(begin, end) >= low_x_mm)
    x, y = segments[met, :, 0], segments[met, :, 1]
    run = x[:, 1] - x[:, 0]
    ends = np.clip(x, low_x_mm, high_x_mm)
    share = np.divide(ends - x[:, :1], run[:, None], out=np.zeros_like(x), where=run[:, None] != 0)
    share[run == 0.0, 1] = 1.0  # a segment along y is met from end to end
    return float(np.max(y[:, :1] + share * (y[:, 1] - y[:, 0])[:, None], initial=-np.inf))
