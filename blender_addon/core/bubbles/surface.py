"""Sets of faces: islands too small to count, and what lies near along the surface."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components, dijkstra

from ..geometry.edges import edge_lengths_mm
from ..geometry.solid import face_areas_mm2

if TYPE_CHECKING:
    from ..arrays import Bools
    from ..geometry.mesh import Mesh


def without_islands(mesh: Mesh, chosen: Bools, least_mm2: float) -> Bools:
    """Return the chosen faces (m,) less the islands, joined by vertices, below an area."""
    numbers = np.flatnonzero(chosen)
    if not len(numbers):
        return chosen
    count = len(mesh.vertices)
    a, b, c = mesh.faces[numbers].T
    joined = coo_matrix(
        (np.ones(2 * len(a)), (np.concatenate([a, b]), np.concatenate([b, c]))), (count, count)
    )
    _, label = connected_components(joined, directed=False)
    area = np.bincount(label[a], face_areas_mm2(mesh)[numbers])
    kept = np.zeros(len(chosen), dtype=bool)
    kept[numbers] = area[label[a]] >= least_mm2
    return kept


def grown(mesh: Mesh, chosen: Bools, margin_mm: float) -> Bools:
    """Return the chosen faces (m,) and those within a distance of them along the edges."""
    if margin_mm <= 0.0 or not chosen.any():
        return chosen
    sources = np.unique(mesh.faces[chosen])
    ends, count = mesh.edges.ends, len(mesh.vertices)
    lengths = np.maximum(edge_lengths_mm(mesh.vertices, mesh.edges), 1e-9)  # zero would be no edge
    graph = coo_matrix((lengths, (ends[:, 0], ends[:, 1])), shape=(count, count)).tocsr()
    away = dijkstra(graph, directed=False, indices=sources, min_only=True, limit=margin_mm)
    near: Bools = chosen | (away[mesh.faces].max(axis=1) <= margin_mm)
    return near
