"""A scan from a file, by Blender's own importers."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ImportHelper

from .. import ids, polls

IMPORTERS = {
    ".stl": bpy.ops.wm.stl_import,
    ".ply": bpy.ops.wm.ply_import,
    ".obj": bpy.ops.wm.obj_import,
}
_FILTER = bpy.props.StringProperty(default="*.stl;*.ply;*.obj", options={"HIDDEN"})


class ImportScan(bpy.types.Operator, ImportHelper):
    """Import the scan of a piece: STL, PLY or OBJ"""

    bl_idname = ids.IMPORT_SCAN
    bl_label = "Import Scan"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        importer = IMPORTERS.get(Path(self.filepath).suffix.lower())
        if importer is None:
            name = Path(self.filepath).name
            self.report({"ERROR"}, f"{name} is no scan: choose an STL, PLY or OBJ file")
            return {"CANCELLED"}
        return importer(filepath=self.filepath)
