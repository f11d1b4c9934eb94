"""Stands a piece on faces or points that were picked, by turning the object as a whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from mathutils import Matrix, Vector

from ..core.errors import UnusableMeshError
from .mesh import arrays_of

if TYPE_CHECKING:
    import bpy

LEAST_POINTS = 3

ROUND_SHARE = 0.05
"""Of their area that picked faces must face one way: those of a ball face all ways."""


def stand_on_selected(context: bpy.types.Context, thing: bpy.types.Object) -> None:
    """Turn an object about its middle so that what is selected on its mesh faces down.

    Parameters
    ----------
    context : bpy.types.Context
    thing : bpy.types.Object
        In Object Mode.

    Raises
    ------
    UnusableMeshError
        If nothing is selected that tells a plane.
    """
    down = (thing.matrix_world.to_3x3().inverted_safe().transposed() @ _down(thing)).normalized()
    turn = down.rotation_difference(Vector((0.0, 0.0, -1.0))).to_matrix().to_4x4()
    corners = [thing.matrix_world @ Vector(corner) for corner in thing.bound_box]
    middle = sum(corners, Vector()) / len(corners)
    about = Matrix.Translation(middle) @ turn @ Matrix.Translation(-middle)
    thing.matrix_world = about @ thing.matrix_world
    context.view_layer.update()


def _down(thing: bpy.types.Object) -> Vector:
    """Return the way out of the piece at what is selected, in the object's own frame."""
    data = thing.data
    chosen = np.zeros(len(data.polygons), dtype=bool)
    data.polygons.foreach_get("select", chosen)
    if chosen.any():
        normals = np.zeros((len(chosen), 3), dtype=np.float32)
        areas = np.zeros(len(chosen), dtype=np.float32)
        data.polygons.foreach_get("normal", normals.reshape(-1))
        data.polygons.foreach_get("area", areas)
        total = (normals[chosen] * areas[chosen, None]).sum(axis=0, dtype=np.float64)
        if np.linalg.norm(total) <= ROUND_SHARE * areas[chosen].sum():
            message = "The selected faces look all ways. Select only those that lie on the table."
            raise UnusableMeshError(message)
        return Vector(total)
    points = np.zeros(len(data.vertices), dtype=bool)
    data.vertices.foreach_get("select", points)
    if points.sum() < LEAST_POINTS:
        message = "Select the faces that lie on the table, or three points of the base."
        raise UnusableMeshError(message)
    return _out_of_plane(arrays_of(data)[0].astype(np.float64), points)


def _out_of_plane(vertices: np.ndarray, points: np.ndarray) -> Vector:
    """Return the normal of the plane nearest to some points, away from the piece."""
    picked = vertices[points]
    _, spread, axes = np.linalg.svd(picked - picked.mean(axis=0), full_matrices=False)
    if spread[1] <= 1e-6 * spread[0]:
        message = "The selected points lie in one line. Pick three that span the base."
        raise UnusableMeshError(message)
    normal = axes[2]
    away = picked.mean(axis=0) - (vertices.min(axis=0) + vertices.max(axis=0)) / 2.0
    return Vector(normal if normal @ away > 0.0 else -normal)
