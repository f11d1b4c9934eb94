"""From the window to the command line."""

from __future__ import annotations

import bpy

from ...bridge.writing import COMMAND
from .. import ids
from ..into_folder import IntoFolder


class WriteCommandFiles(IntoFolder, bpy.types.Operator):
    """Write scan, marks and settings into a folder, with the command that lays out the same mold"""

    bl_idname = ids.WRITE_COMMAND_FILES
    bl_label = "Write Command Line Files"
    ending = "command"
    what = COMMAND
