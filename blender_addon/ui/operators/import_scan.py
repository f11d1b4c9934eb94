"""A scan from a file: chosen or dropped on the view, read as on the command line."""

from __future__ import annotations

import bpy
from bpy_extras.io_utils import ImportHelper

from .. import ids, polls

WITH_UNDO = True
"""An operator that is called by another pushes its step only when told to."""

_FILTER = bpy.props.StringProperty(default="*.stl;*.ply;*.obj;*.3mf", options={"HIDDEN"})
_PATH = bpy.props.StringProperty(subtype="FILE_PATH", options={"SKIP_SAVE"})


class ImportScan(bpy.types.Operator, ImportHelper):
    """Import the scan of a piece from STL, PLY, OBJ or 3MF"""

    bl_idname = ids.IMPORT_SCAN
    bl_label = "Import Scan"
    bl_options = {"REGISTER"}
    poll = classmethod(polls.is_free)
    filter_glob: _FILTER
    filepath: _PATH

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask for the file, unless one was dropped on the view."""
        if self.filepath:
            return self.execute(context)
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Read it: beside the window when a person asked for it, else straight through."""
        how = ("INVOKE_DEFAULT" if self.options.is_invoke else "EXEC_DEFAULT", WITH_UNDO)
        try:
            done = bpy.ops.riseline.read_scan(*how, filepath=self.filepath)
        except RuntimeError as error:  # what it reported as an error, once more for who called us
            self.report({"ERROR"}, str(error).strip().removeprefix("Error: "))
            return {"CANCELLED"}
        return {"CANCELLED"} if done == {"CANCELLED"} else {"FINISHED"}


class DropScan(bpy.types.FileHandler):
    """Files dropped on the 3D view"""

    bl_idname = "RISELINE_FH_scan"
    bl_label = "Scan for a Mold"
    bl_import_operator = ids.IMPORT_SCAN
    bl_file_extensions = ".stl;.ply;.obj;.3mf"

    @classmethod
    def poll_drop(cls, context: bpy.types.Context) -> bool:
        """Take what is dropped on a 3D view."""
        return context.area is not None and context.area.type == "VIEW_3D"
