"""From the window to the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ...bridge.command_files import write_command_files
from .. import ids, polls
from ..into_folder import IntoFolder

if TYPE_CHECKING:
    from pathlib import Path


class WriteCommandFiles(IntoFolder, bpy.types.Operator):
    """Write scan, marks and settings into a folder, with the command that lays out the same mold"""

    bl_idname = ids.WRITE_COMMAND_FILES
    bl_label = "Write Command Line Files"
    ending = "command"
    what = "Scan, marks and settings"

    def write(self, scene: bpy.types.Scene, folder: Path) -> None:
        with bpy.context.temp_override(scene=scene):
            write_command_files(bpy.context, polls.chosen_scan(bpy.context), folder)
