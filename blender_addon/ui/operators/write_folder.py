"""Writes the folder that was chosen."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import bpy

from ...bridge.writing import COMMAND, PARTS, SHEETS, WRITE, writer_of
from .. import ids, polls
from ..long_work import LongWork
from ..view import redraw

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from ...core.watch import Watch

NAMES = {
    PARTS: "The parts",
    SHEETS: "Job sheet and templates",
    COMMAND: "Scan, marks and settings",
}

WRITTEN_AT = {PARTS: "parts_at", SHEETS: "sheets_at"}
"""Where the results remember the folder."""


class WriteFolder(LongWork, bpy.types.Operator):
    """Write what was laid out into a folder"""

    bl_idname = ids.WRITE_FOLDER
    bl_label = "Write Folder"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.has_layout)
    doing = "Writing the folder"
    changes_scene = False
    what: bpy.props.EnumProperty(
        name="What",
        description="What is written",
        items=[(one, name, "") for one, name in NAMES.items()],
        options={"SKIP_SAVE"},
    )
    filepath: bpy.props.StringProperty(subtype="DIR_PATH", options={"SKIP_SAVE"})

    def gather(self, context: bpy.types.Context) -> Callable[[Watch], None]:
        self._folder = Path(bpy.path.abspath(self.filepath))
        self._scene = context.scene.session_uid
        return writer_of(context, polls.scan_at_work(context), self.what, str(self._folder))

    def pace_s(self) -> Mapping[str, float]:
        return {WRITE: 1.0}

    def finish(self, context: bpy.types.Context, result: None) -> set[str]:
        del result
        scene = next((one for one in bpy.data.scenes if one.session_uid == self._scene), None)
        if self.what in WRITTEN_AT and scene is not None:
            setattr(scene.riseline.results, WRITTEN_AT[self.what], str(self._folder))
        redraw(context)
        self.report({"INFO"}, f"{NAMES[self.what]} are in {self._folder}")
        return {"FINISHED"}
