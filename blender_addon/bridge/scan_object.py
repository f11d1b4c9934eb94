"""A scan that was read as an object of the scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from .build import new_mesh
from .place import boxes_of, clear_shift, others

if TYPE_CHECKING:
    from ..core.desk.drawn import DrawnEdges
    from ..core.geometry.mesh import Mesh


def add_scan(
    context: bpy.types.Context,
    name: str,
    mesh: Mesh,
    units_per_number: float,
    edges: DrawnEdges | None = None,
) -> bpy.types.Object:
    """Put a scan into the scene, alone selected and active.

    Parameters
    ----------
    context : bpy.types.Context
    name : str
        The name wanted.
    mesh : Mesh
        As it was read.
    units_per_number : float
        Scene units for each unit of its numbers.
    edges : DrawnEdges, optional
        Those of the mesh, where they are known.
    """
    data = new_mesh(name, mesh, units_per_number, flat=False, edges=edges)
    scan = bpy.data.objects.new(name, data)
    context.collection.objects.link(scan)
    step_aside(context, scan)
    for other in context.selected_objects:
        other.select_set(state=False)
    scan.select_set(state=True)
    context.view_layer.objects.active = scan
    return scan


def step_aside(context: bpy.types.Context, scan: bpy.types.Object) -> None:
    """Move a new object along +x until it stands clear of what is seen in the scene."""
    context.view_layer.update()
    scan.location.x += clear_shift(boxes_of([scan])[0], boxes_of(others(context.scene, scan)))
    context.view_layer.update()
