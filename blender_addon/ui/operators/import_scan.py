"""A scan from a file, read as on the command line."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ImportHelper

from ...bridge.lengths import mm_per_unit
from ...bridge.scan_object import add_scan
from ...core.errors import RiselineError
from ...core.files.read import read
from .. import ids, polls
from ..view import frame

TOLD_IN_MM = ".3mf"
"""The one format that tells its unit; of the others Blender takes a number as a scene unit."""

_FILTER = bpy.props.StringProperty(default="*.stl;*.ply;*.obj;*.3mf", options={"HIDDEN"})


class ImportScan(bpy.types.Operator, ImportHelper):
    """Import the scan of a piece from STL, PLY, OBJ or 3MF"""

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
        path = Path(self.filepath)
        units = 1.0 / mm_per_unit(context.scene) if path.suffix.lower() == TOLD_IN_MM else 1.0
        scan = add_scan(context, path.stem, mesh, units)
        frame(context, [scan])
        self.report({"INFO"}, f"{len(mesh.faces)} triangles. Now give the height of the piece")
        return {"FINISHED"}
