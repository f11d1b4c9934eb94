"""A part of a surface made smooth: as little bent as what lies round it lets it be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_matrix, diags, identity
from scipy.sparse.linalg import splu

from ..constants.geometry import FAIR_HOLD_SHARE, FAIR_ROUNDS, FLATTEST_COTANGENT

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from .mesh import Mesh


def faired(mesh: Mesh, free: Bools) -> Floats:
    """Return the vertices (n, 3) with those that are free moved to where the surface bends least.

    The sum of the squared mean curvature is minimised, over the free vertices and those beside
    them; so the surface goes on over the border without a crease. Solved several times, each time
    on the shape that was found before.

    Parameters
    ----------
    mesh : Mesh
        Closed round the free vertices.
    free : ndarray, shape (n,)

    References
    ----------
    .. [1] Botsch, Kobbelt: An intuitive framework for real-time freeform modeling, SIGGRAPH 2004.
    .. [2] Meyer et al.: Discrete differential-geometry operators for triangulated 2-manifolds,
       Visualization and Mathematics III, 2003.
    """
    vertices = mesh.vertices.copy()
    if not free.any():
        return vertices
    bent = np.zeros(len(free), dtype=bool)  # the free ones and their neighbours
    bent[mesh.faces[free[mesh.faces].any(axis=1)]] = True
    own = mesh.faces[bent[mesh.faces].any(axis=1)]
    used, local = np.unique(own, return_inverse=True)
    local = local.reshape(-1, 3)
    rows, moving = np.flatnonzero(bent[used]), np.flatnonzero(free[used])
    still = np.flatnonzero(~free[used])
    for _ in range(FAIR_ROUNDS):
        points = vertices[used]
        curvature, areas = _laplacian(points, local)
        part = curvature[rows]
        weighted = part[:, moving].T @ diags(1.0 / areas[rows])
        matrix = (weighted @ part[:, moving]).tocsc()
        hold = FAIR_HOLD_SHARE * float(matrix.diagonal().max())  # what is loose stays where it is
        matrix += hold * identity(len(moving), format="csc")
        wanted = hold * points[moving] - weighted @ (part[:, still] @ points[still])
        vertices[used[moving]] = splu(matrix).solve(wanted)
    return vertices


def _laplacian(points: Floats, faces: np.ndarray) -> tuple[csr_matrix, Floats]:
    """Return the cotangent matrix of some triangles, and a third of the area round each vertex."""
    count = len(points)
    rows, columns, weights = [], [], []
    areas = np.zeros(count)
    corners = points[faces]
    for k in range(3):
        a, b = faces[:, (k + 1) % 3], faces[:, (k + 2) % 3]
        u, v = corners[:, (k + 1) % 3] - corners[:, k], corners[:, (k + 2) % 3] - corners[:, k]
        double = np.linalg.norm(np.cross(u, v), axis=1)
        cotangent = np.einsum("ij,ij->i", u, v) / np.maximum(double, 1e-30)
        cotangent = np.clip(cotangent, -FLATTEST_COTANGENT, FLATTEST_COTANGENT) / 2.0
        rows += [a, b]
        columns += [b, a]
        weights += [cotangent, cotangent]
        areas += np.bincount(faces[:, k], double / 6.0, count)
    pairs = (np.concatenate(rows), np.concatenate(columns))
    beside = csr_matrix((np.concatenate(weights), pairs), shape=(count, count))
    whole = csr_matrix(beside - diags(np.asarray(beside.sum(axis=1)).ravel()))
    return whole, np.maximum(areas, 1e-9 * max(float(areas.max()), 1e-30))
