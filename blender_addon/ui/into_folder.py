"""What operators have in common that write a folder of files."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

import bpy
from bpy_extras.io_utils import ExportHelper

from . import polls


class IntoFolder(ExportHelper):
    """A mix-in: asks where to, then has ``what`` written."""

    bl_options: ClassVar[set[str]] = {"REGISTER"}
    poll = classmethod(polls.has_layout)
    filename_ext = ""
    check_extension = None
    ending: ClassVar[str]
    what: ClassVar[str]

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Ask where to, and offer a folder named for the scan beside the file."""
        source = bpy.path.clean_name(context.scene.riseline.results.source)
        beside = Path(bpy.data.filepath).parent if bpy.data.filepath else Path.home()
        self.filepath = str(beside / f"{source}_{self.ending}")
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Write the folder: beside the window when a person asked for it, else straight through."""
        beside = self.options.is_invoke and not bpy.app.background
        how = "INVOKE_DEFAULT" if beside else "EXEC_DEFAULT"
        try:
            done = bpy.ops.riseline.write_folder(how, what=self.what, filepath=self.filepath)
        except RuntimeError as error:  # what it reported as an error, once more for who called us
            self.report({"ERROR"}, str(error).strip().removeprefix("Error: "))
            return {"CANCELLED"}
        return {"CANCELLED"} if done == {"CANCELLED"} else {"FINISHED"}
