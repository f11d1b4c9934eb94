"""Points in exactly the same place, counted as one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


def places(points: Floats) -> tuple[Floats, Ints]:
    """Return the different places of some points, and the place of each.

    Parameters
    ----------
    points : ndarray, shape (n, 3)

    Returns
    -------
    different : ndarray, shape (k, 3)
        In the order in which they first stood.
    place : ndarray, shape (n,)
        Numbers into ``different``.

    Examples
    --------
    >>> different, place = places(np.array([[5.0, 0, 0], [1, 0, 0], [5, 0, 0]]))
    >>> different[:, 0].tolist(), place.tolist()
    ([5.0, 1.0], [0, 1, 0])
    """
    order = np.lexsort(points.T)
    new = np.ones(len(points), dtype=bool)
    new[1:] = (points[order[1:]] != points[order[:-1]]).any(axis=1)
    first = order[new]  # the sort is stable: the earliest of each place
    rank = np.zeros(len(first), dtype=np.int64)
    rank[np.argsort(first)] = np.arange(len(first))
    place = np.zeros(len(points), dtype=np.int64)
    place[order] = rank[np.cumsum(new) - 1]
    return points[np.sort(first)], place
