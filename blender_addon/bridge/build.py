"""Core's meshes as new Blender meshes, in bulk."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy
import numpy as np

from . import names

if TYPE_CHECKING:
    from ..core.bubbles.result import BubblesResult
    from ..core.geometry.mesh import Mesh


def new_mesh(name: str, mesh: Mesh, units_per_mm: float) -> bpy.types.Mesh:
    """Return a new Blender mesh with the same triangles in the same order.

    Parameters
    ----------
    name : str
        The name wanted; Blender may add a number.
    mesh : Mesh
        In mm.
    units_per_mm : float
        Scene units per millimetre.
    """
    data = bpy.data.meshes.new(name)
    count = len(mesh.faces)
    data.vertices.add(len(mesh.vertices))
    data.loops.add(3 * count)
    data.polygons.add(count)
    vertices = np.ascontiguousarray(mesh.vertices * units_per_mm, dtype=np.float32)
    data.vertices.foreach_set("co", vertices.reshape(-1))
    data.loops.foreach_set("vertex_index", mesh.faces.astype(np.int32).reshape(-1))
    data.polygons.foreach_set("loop_start", np.arange(0, 3 * count, 3, dtype=np.int32))
    data.update(calc_edges=True)
    data.shade_flat()
    return data


def mark_faces(data: bpy.types.Mesh, bubbles: BubblesResult) -> None:
    """Write what the bubbles stage says of each face: named attributes, and the slot to show.

    The slots are those of `names.CLASSES`: a face that is several things shows the gravest.
    """
    trapped = bubbles.trapped_depth_mm > 0.0
    classes = {
        names.PREBRUSH: bubbles.prebrush,
        names.NARROW: bubbles.narrow,
        names.CLINGING: bubbles.clinging,
        names.TRAPPED: trapped,
    }
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    for slot, (name, chosen) in enumerate(classes.items(), start=1):
        data.attributes.new(name, "BOOLEAN", "FACE").data.foreach_set("value", np.array(chosen))
        slots[chosen] = slot
    depth = data.attributes.new(names.TRAPPED_DEPTH_MM, "FLOAT", "FACE")
    depth.data.foreach_set("value", bubbles.trapped_depth_mm.astype(np.float32))
    data.polygons.foreach_set("material_index", slots)
