"""Which triangles of a mesh go through others."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import cKDTree

from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh


def crossing_faces(mesh: Mesh, chosen: Bools) -> Bools:
    """Return which of the chosen faces (m,) cross a face that they share no corner with.

    Parameters
    ----------
    mesh : Mesh
    chosen : ndarray, shape (m,)

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> flat, upright = [[0, 0, 0], [4, 0, 0], [0, 4, 0]], [[1, 1, -1], [1, 1, 1], [9, 9, 0]]
    >>> two = Mesh(flat + upright, [[0, 1, 2], [3, 4, 5]])
    >>> crossing_faces(two, np.array([True, False])).tolist()
    [True, False]
    """
    one, other = _near(mesh, np.flatnonzero(chosen))
    first, second = mesh.corners[one], mesh.corners[other]
    through = np.zeros(len(one), dtype=bool)
    for k in range(3):
        ahead = (k + 1) % 3
        through |= _pierces(first[:, k], first[:, ahead], second)
        through |= _pierces(second[:, k], second[:, ahead], first)
    found = np.zeros(len(mesh.faces), dtype=bool)
    found[one[through]] = True
    return found


def _near(mesh: Mesh, chosen: Ints) -> tuple[Ints, Ints]:
    """Return pairs of a chosen face and another whose boxes overlap and that share no corner."""
    corners = mesh.corners
    low, high = corners.min(axis=1), corners.max(axis=1)
    middle, reach = (low + high) / 2.0, np.linalg.norm(high - low, axis=1) / 2.0
    size = np.floor(np.log2(np.maximum(reach, 1e-9))).astype(np.int64)
    pairs: list[tuple[Ints, Ints]] = [(np.zeros(0, np.int64), np.zeros(0, np.int64))]
    for level in np.unique(size):  # large faces are few: each size is sought as far as it reaches
        own = np.flatnonzero(size == level)
        found = cKDTree(middle[own]).query_ball_point(
            middle[chosen], reach[chosen] + reach[own].max()
        )
        owner, _ = spread(np.array([len(one) for one in found], dtype=np.int64))
        members = np.concatenate([np.asarray(one, dtype=np.int64) for one in found])
        pairs.append((chosen[owner], own[members]))
    one, other = (np.concatenate(side) for side in zip(*pairs, strict=True))
    apart = (low[one] > high[other]).any(axis=1) | (low[other] > high[one]).any(axis=1)
    joined = (mesh.faces[one][:, :, None] == mesh.faces[other][:, None, :]).any(axis=(1, 2))
    kept = ~apart & ~joined
    return one[kept], other[kept]


def _pierces(start: Floats, end: Floats, corners: Floats) -> Bools:
    """Return which lines from start to end (k, 3) pass through the inside of triangles."""
    a, b, c = (corners[:, k] for k in range(3))
    sides = _volume(a, b, c, start) * _volume(a, b, c, end) < 0.0
    turns = [_volume(start, end, p, q) for p, q in ((a, b), (b, c), (c, a))]
    same = [
        np.all([turn > 0.0 for turn in turns], axis=0),
        np.all([t < 0.0 for t in turns], axis=0),
    ]
    pierced: Bools = sides & (same[0] | same[1])
    return pierced


def _volume(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats:
    found: Floats = np.einsum("ij,ij->i", np.cross(b - a, c - a), d - a)
    return found
