"""A Blender object read in bulk into core's mesh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.desk.read import Raw
from ..core.errors import UnusableMeshError
from .build import CORNER_VERTEX
from .lengths import mm_per_unit

if TYPE_CHECKING:
    import bpy


def read_raw(
    scene: bpy.types.Scene, thing: bpy.types.Object, depsgraph: bpy.types.Depsgraph
) -> Raw:
    """Return an object in millimetres of the scene, where it stands, modifiers applied.

    Parameters
    ----------
    scene : bpy.types.Scene
        Says how long a unit is.
    thing : bpy.types.Object
        Anything with faces. It is only read.
    depsgraph : bpy.types.Depsgraph
        Evaluated.

    Raises
    ------
    UnusableMeshError
        If it has no faces.
    """
    vertices, faces = _arrays(thing.evaluated_get(depsgraph))
    if not len(faces):
        message = f"{thing.name} has no faces. Select the scan of the piece, a mesh with faces."
        raise UnusableMeshError(message)
    matrix = np.array(thing.matrix_world, dtype=np.float64)
    matrix[:3] *= mm_per_unit(scene)
    return Raw(vertices, faces, matrix)


def _arrays(evaluated: bpy.types.Object) -> tuple[np.ndarray, np.ndarray]:
    """Return the vertices (n, 3) and triangles (m, 3) of an evaluated object."""
    if evaluated.type == "MESH":
        return arrays_of(evaluated.data)
    data = evaluated.to_mesh()
    try:
        return arrays_of(data)
    finally:
        evaluated.to_mesh_clear()


def arrays_of(data: bpy.types.Mesh) -> tuple[np.ndarray, np.ndarray]:
    """Return the vertices (n, 3) and triangles (m, 3) of a mesh."""
    vertices = np.zeros((len(data.vertices), 3), dtype=np.float32)
    data.attributes["position"].data.foreach_get("vector", vertices.reshape(-1))
    if len(data.loops) == 3 * len(data.polygons):  # triangles only, as in nearly every scan
        faces = np.zeros((len(data.polygons), 3), dtype=np.int32)
        if len(faces):
            data.attributes[CORNER_VERTEX].data.foreach_get("value", faces.reshape(-1))
        return vertices, faces
    data.calc_loop_triangles()
    faces = np.zeros((len(data.loop_triangles), 3), dtype=np.int32)
    data.loop_triangles.foreach_get("vertices", faces.reshape(-1))
    return vertices, faces
