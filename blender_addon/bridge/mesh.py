"""A Blender object read in bulk into core's mesh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..core.errors import UnusableMeshError
from ..core.geometry.mesh import Mesh
from .lengths import mm_per_unit

if TYPE_CHECKING:
    import bpy


@dataclass(frozen=True, eq=False)
class _Reading:
    """What was read last, and the mesh made from it."""

    vertices: np.ndarray
    faces: np.ndarray
    matrix: np.ndarray
    mesh: Mesh

    def matches(self, vertices: np.ndarray, faces: np.ndarray, matrix: np.ndarray) -> bool:
        pairs = ((self.matrix, matrix), (self.faces, faces), (self.vertices, vertices))
        return all(np.array_equal(old, new) for old, new in pairs)


class MeshReader:
    """Reads objects, and hands back the same mesh while nothing changed.

    Stages that get the very same mesh need not run again, so sameness is worth keeping.
    """

    def __init__(self) -> None:
        self._last: _Reading | None = None

    def read(
        self, scene: bpy.types.Scene, thing: bpy.types.Object, depsgraph: bpy.types.Depsgraph
    ) -> Mesh:
        """Return an object's mesh in millimetres of the scene, where it stands, modifiers applied.

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
            If it has no faces, or a vertex no finite position.
        """
        vertices, faces = _arrays(thing.evaluated_get(depsgraph))
        if not len(faces):
            message = f"{thing.name} has no faces. Select the scan of the piece, a mesh with faces."
            raise UnusableMeshError(message)
        matrix = np.array(thing.matrix_world, dtype=np.float64)
        matrix[:3] *= mm_per_unit(scene)
        if self._last is None or not self._last.matches(vertices, faces, matrix):
            self._last = _Reading(vertices, faces, matrix, Mesh(vertices, faces).moved(matrix))
        return self._last.mesh


def _arrays(evaluated: bpy.types.Object) -> tuple[np.ndarray, np.ndarray]:
    """Return the vertices (n, 3) and triangles (m, 3) of an evaluated object."""
    data = evaluated.to_mesh()
    try:
        vertices = np.zeros((len(data.vertices), 3), dtype=np.float32)
        data.vertices.foreach_get("co", vertices.reshape(-1))
        data.calc_loop_triangles()
        faces = np.zeros((len(data.loop_triangles), 3), dtype=np.int32)
        data.loop_triangles.foreach_get("vertices", faces.reshape(-1))
    finally:
        evaluated.to_mesh_clear()
    return vertices, faces
