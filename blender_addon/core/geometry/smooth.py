"""Normals without the noise of a scan: averaged over the neighbourhood."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_array

from ..constants.geometry import CRISP_COSINE, MOST_SMOOTHING

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .mesh import Mesh


def smooth_normals(mesh: Mesh, radius_mm: float) -> Floats:
    """Return for each face (m, 3) the unit normal of the surface round it.

    Normals times areas spread from face to face over shared edges, as a random walk does: after k
    steps from middle to middle of neighbours, each s long, over s sqrt(k) or so. Crisp edges are
    not crossed, and two sides of a thin wall never mix.

    Parameters
    ----------
    mesh : Mesh
    radius_mm : float
        0 leaves each face its own normal.

    References
    ----------
    .. [1] Taubin: A signal processing approach to fair surface design, SIGGRAPH 1995.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> smooth_normals(Mesh([[0, 0, 0], [2, 0, 0], [0, 2, 0]], [[0, 1, 2]]), 1.0).tolist()
    [[0.0, 0.0, 1.0]]
    """
    beside = _beside(mesh)
    vectors = np.array(mesh.vectors_mm2)
    spreading = _spreading(beside)  # one product a step: of a fine scan, a quarter of the time
    for _ in range(_steps(mesh, beside, radius_mm)):
        vectors = spreading @ vectors
    lengths = np.maximum(np.linalg.norm(vectors, axis=1), 1e-300)
    normals: Floats = vectors / lengths[:, None]
    return normals


def _beside(mesh: Mesh) -> Ints:
    """Return the face across each edge (m, 3), itself where there is none or the edge is crisp."""
    edge = mesh.edges.of_face.ravel()
    total = np.bincount(edge, np.repeat(np.arange(len(mesh.faces)), 3), len(mesh.edges.uses))
    own = np.repeat(np.arange(len(mesh.faces)), 3)
    across = np.where(mesh.edges.uses[edge] == 2, total[edge].astype(np.int64) - own, own)
    vectors = mesh.vectors_mm2
    lengths = np.linalg.norm(vectors, axis=1)
    turn = np.einsum("ij,ij->i", vectors[own], vectors[across])
    crisp = turn < CRISP_COSINE * lengths[own] * lengths[across]
    return np.where(crisp, own, across).reshape(-1, 3)


def _spreading(beside: Ints) -> csr_array:
    """Return the matrix (m, m) that makes each row the mean of its own and those beside it."""
    count = len(beside)
    columns = np.column_stack([np.arange(count), beside])
    starts = np.arange(0, columns.size + 1, 4)
    return csr_array((np.full(columns.size, 0.25), columns.ravel(), starts), shape=(count, count))


def _steps(mesh: Mesh, beside: Ints, radius_mm: float) -> int:
    """Return how many steps carry as far as the radius, of which three in four leave the face."""
    middles = mesh.corners.mean(axis=1)
    step = float(np.median(np.linalg.norm(middles[beside[:, 0]] - middles, axis=1)))
    if step <= 0.0 or radius_mm <= 0.0:
        return 0
    return min(round(4.0 / 3.0 * (radius_mm / step) ** 2), MOST_SMOOTHING)
