"""From the layout to paper."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ExportHelper

from ...bridge.job import write_sheets
from ...core.errors import RiselineError
from .. import ids, polls


class WriteSheets(bpy.types.Operator, ExportHelper):
    """Write the job sheet and all templates at true size into a folder, to be printed"""

    bl_idname = ids.WRITE_SHEETS
    bl_label = "Write Job Sheet"
    bl_options = {"REGISTER"}
    poll = classmethod(polls.has_layout)
    filename_ext = ""
    check_extension = None

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask where to, and offer a folder named for the scan beside the file."""
        source = bpy.path.clean_name(context.scene.riseline.results.source)
        beside = Path(bpy.data.filepath).parent if bpy.data.filepath else Path.home()
        self.filepath = str(beside / f"{source}_sheets")
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        folder = Path(bpy.path.abspath(self.filepath))
        try:
            write_sheets(context.scene, folder)
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"Job sheet and templates are in {folder}")
        return {"FINISHED"}
