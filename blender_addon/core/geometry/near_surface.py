"""The nearest points on some triangles, for points that lie close to them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import KDTree

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints

_TRIED = 16
_SLACK = 1e-9


class NearSurface:
    """Triangles, none much larger than the others, to lay points on.

    Parameters
    ----------
    corners : ndarray, shape (m, 3, 3)
    """

    def __init__(self, corners: Floats) -> None:
        self.corners = corners
        middles = corners.mean(axis=1)
        self._tree = KDTree(middles)
        off = corners - middles[:, None]
        self._reach = np.sqrt(np.einsum("ijk,ijk->ij", off, off).max(axis=1))

    def nearest(self, points: Floats) -> tuple[Floats, Ints]:
        """Return for each point (n, 3) the nearest on the triangles, and the triangle's number.

        Looked for among those whose middles are nearest.

        Examples
        --------
        >>> floor = NearSurface(np.array([[[0.0, 0, 0], [4, 0, 0], [0, 4, 0]]]))
        >>> floor.nearest(np.array([[1.0, 1, 2], [4, 4, 0]]))[0].tolist()
        [[1.0, 1.0, 0.0], [2.0, 2.0, 0.0]]
        """
        tried = min(_TRIED, len(self.corners))
        away, faces = self._tree.query(points, k=tried)
        away, faces = (np.reshape(one, (len(points), tried)) for one in (away, faces))
        # no place of a triangle is farther than its middle, none nearer than that less its reach
        row, rank = np.nonzero(away - self._reach[faces] <= away[:, :1] * (1.0 + _SLACK))
        spots = nearest_on_triangles(points[row], self.corners[faces[row, rank]])
        off = spots - points[row]
        far = np.full(faces.shape, np.inf)
        far[row, rank] = np.einsum("ij,ij->i", off, off)
        number = np.zeros(faces.shape, dtype=np.int64)
        number[row, rank] = np.arange(len(row))
        rows, best = np.arange(len(points)), far.argmin(axis=1)
        return spots[number[rows, best]], faces[rows, best]


def nearest_on_triangles(points: Floats, corners: Floats) -> Floats:
    """Return the point of each one's own triangle (n, 3, 3) that is nearest to it (n, 3).

    References
    ----------
    .. [1] C. Ericson: Real-time collision detection, 2005, section 5.1.5.
    """
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    ab, ac, ap = b - a, c - a, points - a
    normal = _cross(ab, ac)
    area = np.einsum("ij,ij->i", normal, normal)
    real = np.maximum(area, np.finfo(float).tiny)
    v = np.einsum("ij,ij->i", _cross(ap, ac), normal) / real
    w = np.einsum("ij,ij->i", _cross(ab, ap), normal) / real
    over: Bools = (area > 0.0) & (v >= 0.0) & (w >= 0.0) & (v + w <= 1.0)
    found: Floats = a + v[:, None] * ab + w[:, None] * ac
    beside = np.flatnonzero(~over)
    least = np.full(len(beside), np.inf)
    for start, end in ((a, b), (b, c), (c, a)):
        way = (end - start)[beside]
        reach = points[beside] - start[beside]
        length = np.maximum(np.einsum("ij,ij->i", way, way), np.finfo(float).tiny)
        share = np.clip(np.einsum("ij,ij->i", reach, way) / length, 0.0, 1.0)
        spot = start[beside] + share[:, None] * way
        far = np.einsum("ij,ij->i", points[beside] - spot, points[beside] - spot)
        nearer = far < least
        found[beside[nearer]] = spot[nearer]
        least = np.minimum(least, far)
    return found


def _cross(a: Floats, b: Floats) -> Floats:
    """Return the cross products of rows (n, 3): the library's own takes twice as long."""
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=1)
