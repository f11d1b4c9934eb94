"""A scan that was read as an object of the scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from .build import new_mesh
from .lengths import mm_per_unit

if TYPE_CHECKING:
    from ..core.geometry.mesh import Mesh


def add_scan(context: bpy.types.Context, name: str, mesh: Mesh) -> bpy.types.Object:
    """Put a scan into the scene, alone selected and active; its numbers are taken as mm.

    Parameters
    ----------
    context : bpy.types.Context
    name : str
        The name wanted.
    mesh : Mesh
        As it was read.
    """
    data = new_mesh(name, mesh, 1.0 / mm_per_unit(context.scene))
    scan = bpy.data.objects.new(name, data)
    context.collection.objects.link(scan)
    for other in context.selected_objects:
        other.select_set(state=False)
    scan.select_set(state=True)
    context.view_layer.objects.active = scan
    return scan
