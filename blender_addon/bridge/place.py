"""Where the layout goes in the scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from mathutils import Matrix, Vector

from . import names
from .lengths import mm_per_unit

if TYPE_CHECKING:
    import bpy

    from ..core.layout import Layout

GAP = 1.5
"""Widths of the case between layout and scan: a view that shows the layout from the front and the
right is not blocked by the scan, not even by one that is a thousand times too large."""


def beside(scene: bpy.types.Scene, scan: bpy.types.Object, layout: Layout) -> Matrix:
    """Return where the job frame goes: left of the scan, on the same floor, at true size."""
    corners = np.array([scan.matrix_world @ Vector(corner) for corner in scan.bound_box])
    low, high = corners.min(axis=0), corners.max(axis=0)
    width = layout.case.inner_diameter_mm / mm_per_unit(scene)
    x = low[0] - (GAP + 0.5) * width
    return Matrix.Translation((x, (low[1] + high[1]) / 2.0, low[2]))


def eye_direction(data: bpy.types.Mesh) -> Vector:
    """Return the direction, level with the ground, that most of the places to brush look to.

    Parameters
    ----------
    data : bpy.types.Mesh
        The brush map.
    """
    normals = np.zeros((len(data.polygons), 3), dtype=np.float32)
    areas = np.zeros(len(data.polygons), dtype=np.float32)
    marked = np.zeros(len(data.polygons), dtype=bool)
    data.polygons.foreach_get("normal", normals.reshape(-1))
    data.polygons.foreach_get("area", areas)
    data.attributes[names.PREBRUSH].data.foreach_get("value", marked)
    x, y, _ = (normals[marked] * areas[marked, None]).sum(axis=0)
    return Vector((x, y, 0.0)).normalized() if x or y else Vector((0.0, -1.0, 0.0))


def bounds(things: list[bpy.types.Object]) -> tuple[Vector, float]:
    """Return the middle of some objects and the diagonal of the box round them, in the scene."""
    corners = np.array(
        [thing.matrix_world @ Vector(corner) for thing in things for corner in thing.bound_box]
    )
    low, high = corners.min(axis=0), corners.max(axis=0)
    return Vector((low + high) / 2.0), float(np.linalg.norm(high - low))
