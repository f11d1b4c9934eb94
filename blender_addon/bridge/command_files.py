"""A scene's scan, marks and settings as files for the command line."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from .kept import kept
from .mesh import read_raw
from .paint import read_painted
from .properties import read_settings

if TYPE_CHECKING:
    from pathlib import Path

    import bpy


def write_command_files(context: bpy.types.Context, scan: bpy.types.Object, folder: Path) -> None:
    """Write what a run on a scan would take now.

    Raises
    ------
    RiselineError
        If scan or settings cannot be used, or the folder cannot be written.
    """
    scene = context.scene
    desk = kept.desk(scene, scan)
    mesh = desk.meshes.mesh_of(read_raw(scene, scan, context.evaluated_depsgraph_get()))
    marks = desk.marks.marks_of(read_painted(scene), mesh)
    writer = import_module("..core.job_command", __package__)
    writer.write_command_files(mesh, marks, read_settings(scene), folder)
