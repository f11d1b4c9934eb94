"""One part to the printer."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ExportHelper

from ...bridge import names
from ...bridge.part_files import export_part, part_file
from ...bridge.worded import said_in
from ...core.errors import RiselineError
from .. import ids, polls


class ExportPart(bpy.types.Operator, ExportHelper):
    """Write one part as it lies on the printer; without a name the part that is selected"""

    bl_idname = ids.EXPORT_PART
    bl_label = "Export Part"
    bl_options = {"REGISTER"}
    poll = classmethod(polls.has_layout)
    filename_ext = ".3mf"
    check_extension = None

    part: bpy.props.StringProperty(
        name="Part", description="The part to write", options={"HIDDEN", "SKIP_SAVE"}
    )
    filter_glob: bpy.props.StringProperty(default="*.3mf;*.stl", options={"HIDDEN"})

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask where to, and offer the name that says what, how many and which way up."""
        if not self._choose(context):
            return {"CANCELLED"}
        beside = Path(bpy.data.filepath).parent if bpy.data.filepath else Path.home()
        self.filepath = str(beside / f"{part_file(context.scene, self.part)}{self.filename_ext}")
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        if not self._choose(context):
            return {"CANCELLED"}
        file = bpy.path.abspath(self.filepath)
        if not Path(file).suffix:
            file += self.filename_ext
        try:
            export_part(context.scene, self.part, file)
        except RiselineError as error:
            self.report({"ERROR"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        self.report({"INFO"}, f"The {self.part} is in {file}")
        return {"FINISHED"}

    def _choose(self, context: bpy.types.Context) -> bool:
        """Take the selected object's part where none was named; say so where there is none."""
        if not self.part and context.object is not None:
            self.part = context.object.get(names.PART, "")
        if not self.part:
            self.report({"ERROR"}, "Select one of the parts to print in the 3D view first")
        return bool(self.part)
