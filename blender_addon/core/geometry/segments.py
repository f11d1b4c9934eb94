"""Straight lines in a plane: how far apart they are, and what closed ones go round."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .plan import edge_distances_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats

_AT_ONCE = 2_000_000


def least_apart_mm(segments: Floats, start: Floats, end: Floats) -> float:
    """Return how near one line comes to the nearest of some others, 0 where they cross.

    Parameters
    ----------
    segments : ndarray, shape (k, 2, 2)
    start, end : ndarray, shape (2,)

    Returns
    -------
    float
        Infinity where there are no segments.

    Examples
    --------
    >>> wall = np.array([[[0.0, 4.0], [6.0, 4.0]]])
    >>> least_apart_mm(wall, np.array([2.0, 0.0]), np.array([2.0, 3.0]))
    1.0
    >>> least_apart_mm(wall, np.array([2.0, 0.0]), np.array([2.0, 9.0]))
    0.0
    """
    if not len(segments):
        return float("inf")
    line = np.stack([start, end])[None]
    if (_sides_differ(segments, line) & _sides_differ(line, segments)).any():
        return 0.0
    ends_mm = edge_distances_mm(line[0], segments).min()
    return float(min(ends_mm, edge_distances_mm(segments.reshape(-1, 2), line).min()))


def _sides_differ(lines: Floats, others: Floats) -> Bools:
    """Return whether the ends of others (k, 2, 2) lie on different sides of lines (k, 2, 2)."""
    along, off = lines[:, 1] - lines[:, 0], others - lines[:, :1]
    side = along[:, None, 0] * off[..., 1] - along[:, None, 1] * off[..., 0]
    differ: Bools = side[:, 0] * side[:, 1] < 0.0
    return differ


def inside(points: Floats, segments: Floats) -> Bools:
    """Return which points (n, 2) closed lines, given as directed segments (k, 2, 2), go round.

    Examples
    --------
    >>> ends = np.array([[0.0, 0], [4, 0], [4, 4], [0, 4]])
    >>> square = np.stack([ends, np.roll(ends, -1, axis=0)], axis=1)
    >>> inside(np.array([[1.0, 1.0], [5.0, 1.0], [-1.0, 1.0]]), square).tolist()
    [True, False, False]
    """
    found = np.zeros(len(points), dtype=np.bool_)
    (x0, y0), (x1, y1) = segments[:, 0].T, segments[:, 1].T
    rows = max(1, _AT_ONCE // max(len(segments), 1))
    for low in range(0, len(points), rows):
        x, y = points[low : low + rows, :1], points[low : low + rows, 1:]
        up, down = (y0 <= y) & (y1 > y), (y1 <= y) & (y0 > y)
        left = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
        turns = (up & (left > 0.0)).sum(axis=1) - (down & (left < 0.0)).sum(axis=1)
        found[low : low + rows] = turns != 0
    return found
