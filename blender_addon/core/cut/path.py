"""Where the knife meets the piece: up its back, in the plane of the pour channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..geometry.sections import Sections, horizontal_sections

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..geometry.mesh import Mesh


def block_sections(
    master: Mesh, riser_outline: Sequence[Floats], riser_mm: float, heights_mm: Floats
) -> Sections:
    """Return the level lines of the piece on its riser.

    Parameters
    ----------
    master : Mesh
        Stands on ``riser_mm``.
    riser_outline : sequence of ndarray (k, 2)
        Closed polygons, the same at every height of the riser.
    riser_mm : float
        Height of the riser.
    heights_mm : ndarray, shape (n,)
        Ascending, none exactly at ``riser_mm``.
    """
    own = horizontal_sections(master, heights_mm)
    sides = [np.stack([line, np.roll(line, -1, axis=0)], axis=1) for line in riser_outline]
    low = int(np.searchsorted(heights_mm, riser_mm)) if sides else 0
    if not low:
        return own
    ring = np.concatenate(sides)
    level = np.concatenate([np.repeat(np.arange(low), len(ring)), own.level])
    segments = np.concatenate([np.tile(ring, (low, 1, 1)), own.segments])
    order = np.argsort(level, kind="stable")
    return Sections(heights_mm, level[order], segments[order])


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
