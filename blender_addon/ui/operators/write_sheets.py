"""From the layout to paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ...bridge.job import write_sheets
from .. import ids
from ..into_folder import IntoFolder

if TYPE_CHECKING:
    from pathlib import Path


class WriteSheets(IntoFolder, bpy.types.Operator):
    """Write the job sheet and all templates at true size into a folder, to be printed"""

    bl_idname = ids.WRITE_SHEETS
    bl_label = "Write Job Sheet"
    ending = "sheets"
    what = "Job sheet and templates"

    def write(self, scene: bpy.types.Scene, folder: Path) -> None:
        write_sheets(scene, folder)
