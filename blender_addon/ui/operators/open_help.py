"""The page that tells more; it lies in the add-on, so no network is needed."""

from __future__ import annotations

import bpy

from .. import ids
from ..pages import page_file

_PAGE = bpy.props.StringProperty(default="index", options={"HIDDEN", "SKIP_SAVE"})


class OpenHelp(bpy.types.Operator):
    """Open the page about this step in your browser, from the add-on's own folder"""

    bl_idname = ids.OPEN_HELP
    bl_label = "Open Help"
    bl_options = {"INTERNAL"}
    page: _PAGE

    def execute(self, context: bpy.types.Context) -> set[str]:
        found = page_file(self.page)
        if found is None:
            self.report(
                {"WARNING"}, f"There is no page {self.page!r} in the add-on: install it again"
            )
            return {"CANCELLED"}
        bpy.ops.wm.path_open(filepath=str(found))
        return {"FINISHED"}
