"""What operators have in common that write a folder of files."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

import bpy
from bpy_extras.io_utils import ExportHelper

from ..core.errors import RiselineError
from . import polls


class IntoFolder(ExportHelper):
    """A mix-in: asks where to, and says where it is; `write` does the work."""

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
        """Write the folder, whole or not at all."""
        folder = Path(bpy.path.abspath(self.filepath))
        try:
            self.write(context.scene, folder)
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        self.report({"INFO"}, f"{self.what} are in {folder}")
        return {"FINISHED"}

    def write(self, scene: bpy.types.Scene, folder: Path) -> None:
        """Write what the operator is for."""
        raise NotImplementedError
