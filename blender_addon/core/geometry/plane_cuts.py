"""Cuts of a mesh with level planes: exact lines, joined at their ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh


@dataclass(frozen=True, eq=False)
class PlaneCuts:
    """A line for each triangle and plane it meets; of a closed mesh the solid lies on its left.

    ``plane`` (n,) and ``face`` (n,) are numbers; ``ends_mm`` (n, 2, 2) holds x, y of start and end;
    ``edges`` (n, 2) names the mesh edge that each end lies on, in this plane: lines that share a
    name share that point.
    """

    plane: Ints
    face: Ints
    ends_mm: Floats
    edges: Ints


def level_cuts(mesh: Mesh, heights_mm: Floats) -> PlaneCuts:
    """Return the lines that level planes (k,), ascending, cut out of a mesh.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> front = Mesh([[0, 0, 0], [4, 0, 0], [0, 0, 2]], [[0, 1, 2]])  # faces -y
    >>> level_cuts(front, np.array([1.0])).ends_mm.tolist()
    [[[0.0, 0.0], [2.0, 0.0]]]
    """
    return plane_cuts(mesh.vertices, mesh.faces, heights_mm)


def plane_cuts(vertices: Floats, faces: Ints, heights_mm: Floats) -> PlaneCuts:
    """Return the lines that planes of constant third coordinate cut out of triangles.

    Whether a vertex lies above a plane (or in it, which counts as above) is decided once for the
    vertex, and where an edge meets a plane from its own two ends alone: neighbours agree to the
    last bit, so a closed mesh has no leak.

    Parameters
    ----------
    vertices : ndarray, shape (n, 3)
        With axes exchanged, the solid lies on the right of the lines.
    faces : ndarray, shape (m, 3)
        Counter-clockwise from outside.
    heights_mm : ndarray, shape (k,)
        Ascending.

    Returns
    -------
    PlaneCuts
        Sorted by face.
    """
    below = np.searchsorted(heights_mm, vertices[:, 2], side="right")  # how many planes
    a, b, c = (below[faces[:, k]] for k in range(3))  # by columns: short rows are slow to reduce
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    met = np.flatnonzero(high > low)
    hit, rank = spread(high[met] - low[met])
    face = met[hit]
    plane = low[face] + rank
    over = np.column_stack([a[face] > plane, b[face] > plane, c[face] > plane])
    corners, height = faces[face], heights_mm[plane]
    start, end = (_edge_points(vertices, corners, over, height, up=up) for up in (False, True))
    edges = np.stack([start[1], end[1]], axis=1) * len(heights_mm) + plane[:, None]
    return PlaneCuts(plane, face, np.stack([start[0], end[0]], axis=1), edges)


def _edge_points(
    vertices: Floats, corners: Ints, over: Bools, height: Floats, *, up: bool
) -> tuple[Floats, Ints]:
    """Return where the triangle's edge that crosses the plane upward (or downward) meets it."""
    first, second, third = over.T
    if up:
        edge = np.where(~first & second, 0, np.where(~second & third, 1, 2))
    else:
        edge = np.where(first & ~second, 0, np.where(second & ~third, 1, 2))
    index = np.arange(len(height))
    tail, head = corners[index, edge], corners[index, (edge + 1) % 3]
    low, high = (tail, head) if up else (head, tail)
    z_low, z_high = vertices[low, 2], vertices[high, 2]
    share = np.clip((height - z_low) / (z_high - z_low), 0.0, 1.0)[:, None]
    plan = vertices[:, :2]
    return plan[low] + share * (plan[high] - plan[low]), low * len(vertices) + high
