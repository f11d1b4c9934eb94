"""Core's meshes as new Blender meshes, in bulk."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy
import numpy as np

from . import attributes, names

if TYPE_CHECKING:
    from ..core.desk.drawn import DrawnEdges
    from ..core.desk.picture import Picture
    from ..core.geometry.mesh import Mesh

CORNER_VERTEX, SHARP_FACE = ".corner_vert", "sharp_face"
CORNER_EDGE, EDGE_ENDS = ".corner_edge", ".edge_verts"
"""Blender's own names: the vertex of each corner, which faces are shaded flat, the edge from each
corner to the next, and the vertices at the ends of each edge."""


def new_mesh(
    name: str,
    mesh: Mesh,
    units_per_mm: float,
    *,
    flat: bool = True,
    edges: DrawnEdges | None = None,
) -> bpy.types.Mesh:
    """Return a new Blender mesh with the same triangles in the same order.

    Parameters
    ----------
    name : str
        The name wanted; Blender may add a number.
    mesh : Mesh
        In mm.
    units_per_mm : float
        Scene units per millimetre.
    flat : bool, optional
        Whether faces are shaded flat; a scan looks better smooth.
    edges : DrawnEdges, optional
        Those of the mesh, where they are known: Blender takes long to find them in a fine scan.
    """
    data = bpy.data.meshes.new(name)
    _fill(data, mesh, units_per_mm, edges)
    if flat:
        attributes.write(data, SHARP_FACE, "BOOLEAN", np.ones(len(mesh.faces), dtype=bool))
    return data


def change_mesh(data: bpy.types.Mesh, mesh: Mesh, units_per_mm: float) -> None:
    """Give a Blender mesh other triangles, shaded flat; its materials stay."""
    data.clear_geometry()
    _fill(data, mesh, units_per_mm, None)
    attributes.write(data, SHARP_FACE, "BOOLEAN", np.ones(len(mesh.faces), dtype=bool))


def _fill(data: bpy.types.Mesh, mesh: Mesh, units_per_mm: float, edges: DrawnEdges | None) -> None:
    count = len(mesh.faces)
    data.vertices.add(len(mesh.vertices))
    data.loops.add(3 * count)
    data.polygons.add(count)
    # By way of attributes it is a hundred times as fast as by vertices and loops
    vertices = np.ascontiguousarray(mesh.vertices * units_per_mm, dtype=np.float32)
    data.attributes["position"].data.foreach_set("vector", vertices.reshape(-1))
    corners = mesh.faces.astype(np.int32)
    data.attributes[CORNER_VERTEX].data.foreach_set("value", corners.reshape(-1))
    data.polygons.foreach_set("loop_start", np.arange(0, 3 * count, 3, dtype=np.int32))
    if edges is not None:
        data.edges.add(len(edges.ends))
        data.attributes[EDGE_ENDS].data.foreach_set("value", edges.ends.reshape(-1))
        data.attributes[CORNER_EDGE].data.foreach_set("value", edges.of_face.reshape(-1))
    data.update(calc_edges=edges is None)


def new_frame(name: str, corners: np.ndarray) -> bpy.types.Mesh:
    """Return a new Blender mesh of a closed line through corners (k, 3) in scene units."""
    data = bpy.data.meshes.new(name)
    count = len(corners)
    data.from_pydata(corners.tolist(), [(k, (k + 1) % count) for k in range(count)], [])
    return data


def mark_faces(data: bpy.types.Mesh, picture: Picture) -> None:
    """Write what is known of each face as named attributes, and show its class.

    Parameters
    ----------
    data : bpy.types.Mesh
        The master as it is shown.
    picture : Picture
        Says what each face is.
    """
    for name, kind, values in (
        (names.PREBRUSH, "BOOLEAN", picture.prebrush),
        (names.COMPUTED, "BOOLEAN", picture.computed),
        (names.NARROW, "BOOLEAN", picture.narrow),
        (names.CLINGING, "BOOLEAN", picture.clinging),
        (names.TRAPPED, "BOOLEAN", picture.depth_mm > 0.0),
        (names.TRAPPED_DEPTH_MM, "FLOAT", picture.depth_mm),
        (names.RUBBER_MM, "FLOAT", picture.rubber_mm),
        (names.SOURCE_FACE, "INT", picture.source),
        (names.PAINT, "INT", picture.paint),
        (names.NOT_HERE, "BOOLEAN", picture.not_here),
    ):
        attributes.write(data, name, kind, values)
    show_classes(data)


def show_classes(data: bpy.types.Mesh) -> None:
    """Give each face the slot of `names.CLASSES` to show: of several things, the gravest.

    What is not to be brushed is plain, even where air is trapped: the maker took it off.
    """
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    shown = (names.PREBRUSH, names.COMPUTED, names.NARROW, names.CLINGING, names.TRAPPED)
    for slot, name in enumerate(shown, start=1):
        slots[attributes.read(data, name)] = slot
    slots[~attributes.read(data, names.PREBRUSH)] = 0
    if names.NOT_HERE in data.attributes:
        slots[attributes.read(data, names.NOT_HERE)] = len(names.CLASSES) + len(names.BANDS)
    attributes.write(data, names.MATERIAL, "INT", slots)
