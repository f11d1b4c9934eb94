"""The layout of a scene into a folder: gathered in the window, written beside it."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from ..core.desk.read import Reader
from .kept import kept
from .mesh import read_raw
from .paint import read_painted
from .properties import read_settings

if TYPE_CHECKING:
    from collections.abc import Callable

    import bpy

    from ..core.settings import Settings
    from ..core.watch import Watch

PARTS, SHEETS, COMMAND = "parts", "sheets", "command"
"""What can be written: all of the job, its sheets alone, or what the command line takes."""

WRITE = "Write"
"""What the watch is told."""


def writer_of(
    context: bpy.types.Context, scan: bpy.types.Object, what: str, folder: str
) -> Callable[[Watch], None]:
    """Return what writes a folder, whole or not at all; it touches nothing of Blender.

    Parameters
    ----------
    context : bpy.types.Context
        Its scene has the layout at work, and the paper chosen now.
    scan : bpy.types.Object
        What a run would be made of now.
    what : str
        `PARTS`, `SHEETS` or `COMMAND`.
    folder : str
        Where to.

    Raises
    ------
    RiselineError
        If scan or settings cannot be used.
    """
    stored, settings = context.scene.riseline.results, read_settings(context.scene)
    if what == COMMAND:
        return _command_writer(context, scan, settings, folder)
    layout, source = kept.layout(stored.token), stored.source

    def write(watch: Watch) -> None:
        watch.begin(WRITE)
        if what == SHEETS:
            sheets = import_module("..core.job_sheets", __package__)
            sheets.write_sheet_folder(layout, source, folder, settings.sheet, watch)
        else:
            import_module("..core.job", __package__).write_job(layout, source, folder, watch)

    return write


def _command_writer(
    context: bpy.types.Context, scan: bpy.types.Object, settings: Settings, folder: str
) -> Callable[[Watch], None]:
    raw = read_raw(context.scene, scan, context.evaluated_depsgraph_get())
    painted = read_painted(context.scene)

    def write(watch: Watch) -> None:
        watch.begin(WRITE)
        reader = Reader()
        mesh = reader.mesh_of(raw)
        writer = import_module("..core.job_command", __package__)
        writer.write_command_files(mesh, reader.marks_of(painted, mesh), settings, folder)

    return write
