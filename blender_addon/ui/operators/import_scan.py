"""A scan from a file, read as on the command line."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ImportHelper

from ...bridge.scan_object import add_scan
from ...core.errors import RiselineError
from ...core.files.read import read
from .. import ids, polls
from ..view import frame

_FILTER = bpy.props.StringProperty(default="*.stl;*.ply;*.obj;*.3mf", options={"HIDDEN"})


class ImportScan(bpy.types.Operator, ImportHelper):
    """Import the scan of a piece from STL, PLY, OBJ or 3MF, its numbers taken as millimeters"""

    bl_idname = ids.IMPORT_SCAN
    bl_label = "Import Scan"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        try:
            mesh = read(self.filepath)
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        scan = add_scan(context, Path(self.filepath).stem, mesh)
        frame(context, [scan])
        self.report({"INFO"}, f"{len(mesh.faces)} triangles. Now give the height of the piece")
        return {"FINISHED"}
