"""From the scene to the printer and the bench."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ExportHelper

from ...bridge.job import export
from ...core.errors import RiselineError
from .. import ids, polls


class ExportParts(bpy.types.Operator, ExportHelper):
    """Write a folder with the parts to print and the numbers of the job"""

    bl_idname = ids.EXPORT_PARTS
    bl_label = "Export Mold Parts"
    bl_options = {"REGISTER"}
    poll = classmethod(polls.has_layout)
    filename_ext = ""
    check_extension = None

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask where to, and offer a folder named for the scan beside the file."""
        source = bpy.path.clean_name(context.scene.riseline.results.source)
        beside = Path(bpy.data.filepath).parent if bpy.data.filepath else Path.home()
        self.filepath = str(beside / f"{source}_mold")
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        folder = Path(bpy.path.abspath(self.filepath))
        try:
            export(context.scene, folder)
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"The parts are in {folder}")
        return {"FINISHED"}
