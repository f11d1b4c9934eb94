"""The layout of a scene into a folder: gathered in the window, written beside it."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from .kept import kept
from .properties import read_settings

if TYPE_CHECKING:
    from collections.abc import Callable

    import bpy

    from ..core.watch import Watch

PARTS, SHEETS = "parts", "sheets"
"""What can be written: all of the job, or job sheet and templates alone."""

WRITE = "Write"
"""What the watch is told."""


def writer_of(scene: bpy.types.Scene, what: str, folder: str) -> Callable[[Watch], None]:
    """Return what writes a folder, whole or not at all; it touches nothing of Blender.

    Parameters
    ----------
    scene : bpy.types.Scene
        Its layout at work, and the paper chosen now.
    what : str
        `PARTS` or `SHEETS`.
    folder : str
        Where to.
    """
    stored, settings = scene.riseline.results, read_settings(scene).sheet
    layout, source = kept.layout(stored.token), stored.source

    def write(watch: Watch) -> None:
        if what == SHEETS:
            sheets = import_module("..core.job_sheets", __package__)
            sheets.write_sheet_folder(layout, source, folder, settings, watch)
        else:
            import_module("..core.job", __package__).write_job(layout, source, folder, watch)

    return write
