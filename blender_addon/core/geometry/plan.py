"""The shadow that a closed surface throws straight down: its edges, and distances from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats
    from .mesh import Mesh

_AT_ONCE = 2_000_000


def shadow_edges(mesh: Mesh) -> Floats:
    """Return directed edges in plan that bound the shadow of a closed surface.

    They are what is left of the edges of all faces that look up when those that two of these share
    cancel. Every point of the shadow's rim, bays and holes included, lies on one of them; some lie
    inside the shadow, where the surface folds.

    Parameters
    ----------
    mesh : Mesh
        Closed; it may cross itself. Vertices (n, 3) in mm, seen along -z.

    Returns
    -------
    ndarray, shape (k, 2, 2)
        Start and end of each edge, x and y in mm; the shadow lies on the left of its rim.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10]]
    >>> shadow_edges(Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])).shape
    (3, 2, 2)
    """
    plan = mesh.vertices[:, :2]
    a, b, c = (plan[mesh.faces[:, k]] for k in range(3))
    side, other = b - a, c - a
    up = mesh.faces[side[:, 0] * other[:, 1] > side[:, 1] * other[:, 0]]
    directed = up[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    low, high = directed.min(axis=1), directed.max(axis=1)
    key = low * len(plan) + high
    order = np.argsort(key)
    key, turn = key[order], np.where(directed[order, 0] == low[order], 1, -1)
    first = np.flatnonzero(np.diff(key, prepend=-1))
    times = np.add.reduceat(turn, first) if len(first) else turn
    kept, times = order[first[times != 0]], times[times != 0]
    ends = np.where(times[:, None] > 0, np.c_[low, high][kept], np.c_[high, low][kept])
    edges: Floats = plan[np.repeat(ends, np.abs(times), axis=0)]
    return edges


def edge_distances_mm(points: Floats, edges: Floats) -> Floats:
    """Return how far each point (n, 2) is from the nearest of the edges (k, 2, 2), shape (n,).

    For a point outside a shadow that is its distance from the shadow, exactly.

    Examples
    --------
    >>> edge = np.array([[[0.0, 0.0], [10.0, 0.0]]])
    >>> edge_distances_mm(np.array([[5.0, 2.0], [13.0, 4.0]]), edge)
    array([2., 5.])
    """
    out = np.full(len(points), np.inf)
    start, along = edges[:, 0], edges[:, 1] - edges[:, 0]
    length2 = np.maximum(np.einsum("ij,ij->i", along, along), np.finfo(float).tiny)
    rows = max(1, _AT_ONCE // max(len(edges), 1))
    for low in range(0, len(points) if len(edges) else 0, rows):
        x = points[low : low + rows, 0, None] - start[:, 0]
        y = points[low : low + rows, 1, None] - start[:, 1]
        share = np.clip((x * along[:, 0] + y * along[:, 1]) / length2, 0.0, 1.0)
        x -= share * along[:, 0]
        y -= share * along[:, 1]
        out[low : low + rows] = np.sqrt((x * x + y * y).min(axis=1))
    return out
