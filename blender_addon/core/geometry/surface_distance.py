"""How far points lie from a surface of triangles."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import KDTree

from ..constants.geometry import NEAREST_SAMPLES

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


def surface_samples(corners: Floats, spacing_mm: float) -> tuple[Floats, Ints]:
    """Return points all over triangles, no farther apart than a spacing.

    Parameters
    ----------
    corners : ndarray, shape (m, 3, 3)
        Of the triangles.
    spacing_mm : float
        Small triangles get one point each.

    Returns
    -------
    points : ndarray, shape (k, 3)
        On the triangles, inside each.
    face : ndarray, shape (k,)
        The triangle that each lies on.

    Examples
    --------
    >>> surface_samples(np.array([[[0.0, 0, 0], [3, 0, 0], [0, 3, 0]]]), 10.0)[0].tolist()
    [[1.0, 1.0, 0.0]]
    """
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    lengths = np.stack([np.sqrt(_squares(end - start)) for start, end in ((b, c), (c, a), (a, b))])
    longest = np.maximum(np.maximum(lengths[0], lengths[1]), lengths[2])
    small = longest <= spacing_mm
    large = np.flatnonzero(~small)
    points, face = _rows_of_samples(corners[large], lengths[:, large], spacing_mm)
    middles = (a[small] + b[small] + c[small]) / 3.0
    return np.vstack([middles, points]), np.concatenate([np.flatnonzero(small), large[face]])


def _rows_of_samples(corners: Floats, lengths: Floats, spacing_mm: float) -> tuple[Floats, Ints]:
    opposite = np.argmin(lengths, axis=0)  # rows run from this corner to the shortest edge
    number = np.arange(len(corners))
    apex, left, right = (corners[number, (opposite + k) % 3] for k in range(3))
    rows = np.ceil(lengths.max(axis=0) / spacing_mm).astype(np.int64)
    columns = np.maximum(np.ceil(lengths.min(axis=0) / spacing_mm), 1).astype(np.int64)
    count = rows * columns
    face = np.repeat(number, count)
    place = np.arange(len(face)) - (np.cumsum(count) - count)[face]
    down = (place // columns[face] + 0.5) / rows[face]
    across = (place % columns[face] + 0.5) / columns[face]
    foot = left[face] + across[:, None] * (right - left)[face]
    points: Floats = apex[face] + down[:, None] * (foot - apex[face])
    return points, face


def _squares(vectors: Floats) -> Floats:
    squares: Floats = np.einsum("ij,ij->i", vectors, vectors)
    return squares


class SampledSurface:
    """Triangles and points on them, to find the nearest by.

    Parameters
    ----------
    corners : ndarray, shape (m, 3, 3)
        Of the triangles.
    spacing_mm : float
        Of the points, ``samples`` (k, 3).
    """

    def __init__(self, corners: Floats, spacing_mm: float) -> None:
        self.corners = corners
        self.samples, self._face = surface_samples(corners, spacing_mm)
        self._tree = KDTree(self.samples, leafsize=32, compact_nodes=False)

    def distances_mm(self, points: Floats) -> Floats:
        """Return the distance (n,) of points (n, 3), to the triangles of the nearest samples.

        Exact unless the nearest point is on a triangle that has none of them; such a triangle lies
        at an edge, and the error is below spacing**2 / distance.
        """
        nearest = min(NEAREST_SAMPLES, len(self.samples))
        _, found = self._tree.query(points, k=nearest, workers=-1)
        faces = self._face[np.reshape(found, (len(points), nearest))]
        squared = np.full(len(points), np.inf)
        for number in range(nearest):
            new = np.ones(len(points), dtype=np.bool_)
            for earlier in range(number):
                new &= faces[:, number] != faces[:, earlier]
            corners = self.corners[faces[new, number]]
            squared[new] = np.minimum(
                squared[new], triangle_distances_squared(points[new], corners)
            )
        return np.sqrt(squared)


def triangle_distances_squared(points: Floats, corners: Floats) -> Floats:
    """Return the squared distance of each point (n, 3) from its own triangle (n, 3, 3).

    Examples
    --------
    >>> floor = np.array([[[0.0, 0, 0], [4, 0, 0], [0, 4, 0]]])
    >>> [float(triangle_distances_squared(np.array([p]), floor)[0])
    ...  for p in ([1.0, 1, 2], [-3, 1, 4], [4, 4, 0])]
    [4.0, 25.0, 8.0]
    """
    a = corners[:, 0]
    ab, ac, ap = corners[:, 1] - a, corners[:, 2] - a, points - a
    normal = np.cross(ab, ac)
    area = _squares(normal)
    toward_b = np.einsum("ij,ij->i", np.cross(ap, ac), normal)
    toward_c = np.einsum("ij,ij->i", np.cross(ab, ap), normal)
    over = (area > 0) & (toward_b >= 0) & (toward_c >= 0) & (toward_b + toward_c <= area)
    squared = np.zeros(len(points))
    lift = np.einsum("ij,ij->i", ap[over], normal[over])
    squared[over] = lift**2 / area[over]
    beside = ~over
    squared[beside] = _edge_distances_squared(points[beside], corners[beside])
    return squared


def _edge_distances_squared(points: Floats, corners: Floats) -> Floats:
    least = np.full(len(points), np.inf)
    for start, end in ((0, 1), (1, 2), (2, 0)):
        along = corners[:, end] - corners[:, start]
        off = points - corners[:, start]
        length = _squares(along)
        reach = np.einsum("ij,ij->i", off, along)
        share = np.divide(reach, length, out=np.zeros_like(reach), where=length > 0.0)
        rest = off - np.clip(share, 0.0, 1.0)[:, None] * along
        least = np.minimum(least, _squares(rest))
    return least
