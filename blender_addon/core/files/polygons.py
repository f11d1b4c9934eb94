"""Polygons of a file as triangles, and corners that lie in one place as one vertex."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..geometry.places import places

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


def strays(corners: Ints | Floats, count: int) -> int:
    """Return how many corners name none of ``count`` vertices; text may hold any number there.

    Examples
    --------
    >>> strays(np.array([-1, 0, 2, 3]), 3), strays(np.array([0.0, 1.5, np.nan]), 3)
    (2, 2)
    """
    whole = np.rint(corners) == corners
    return int(np.count_nonzero(~((corners >= 0) & (corners < count) & whole)))


def fans(flat: Ints, counts: Ints) -> Ints:
    """Return the triangles of polygons, each as a fan from its first corner.

    The fan bounds the same volume whether or not the polygon is flat or convex.

    Parameters
    ----------
    flat : ndarray, shape (sum(counts),)
        The corners of one polygon after the other.
    counts : ndarray, shape (k,)
        How many corners each has; those with fewer than three have no triangle.

    Returns
    -------
    ndarray, shape (m, 3)
        In the order of the polygons.

    Examples
    --------
    >>> fans(np.array([7, 8, 9, 0, 1, 2, 3]), np.array([3, 4])).tolist()
    [[7, 8, 9], [0, 1, 2], [0, 2, 3]]
    """
    starts = np.cumsum(counts) - counts
    inside = np.maximum(counts - 2, 0)
    first = np.repeat(starts, inside)
    step = np.arange(inside.sum()) - np.repeat(np.cumsum(inside) - inside, inside)
    triangles: Ints = flat[np.column_stack([first, first + step + 1, first + step + 2])]
    return triangles


def welded(vertices: Floats, faces: Ints) -> tuple[Floats, Ints]:
    """Return the mesh with vertices of exactly the same position as one, unused ones left out.

    Triangles that then name a vertex twice are dropped: they have no area, and each of their edges
    is met by another of their own, so a closed surface stays closed. Thin triangles between three
    different places stay, or the surface would open.

    Parameters
    ----------
    vertices : ndarray, shape (n, 3)
    faces : ndarray, shape (m, 3)

    Returns
    -------
    vertices : ndarray, shape (k, 3)
        In the order in which the given ones first stood.
    faces : ndarray, shape (j, 3)

    Examples
    --------
    >>> corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0.0]])
    >>> welded(corners, np.array([[0, 1, 2], [3, 4, 5], [1, 3, 4]]))[1].tolist()
    [[0, 1, 2], [1, 3, 2]]
    """
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    kept = np.flatnonzero(used)
    points, place = places(vertices[kept])
    number = np.zeros(len(vertices), dtype=np.int64)
    number[kept] = place
    faces = number[faces]
    a, b, c = faces.T
    return points, faces[(a != b) & (b != c) & (c != a)]
