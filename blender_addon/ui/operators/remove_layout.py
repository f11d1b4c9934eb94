"""Away with what the add-on put into the scene."""

from __future__ import annotations

import bpy

from ...bridge import results, show
from .. import ids, polls


class RemoveLayout(bpy.types.Operator):
    """Remove the layout, its numbers and your paint from the scene; scan and settings stay"""

    bl_idname = ids.REMOVE_LAYOUT
    bl_label = "Remove Mold Layout"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.shows_layout)

    def execute(self, context: bpy.types.Context) -> set[str]:
        show.remove(context.scene)
        results.clear(context.scene.riseline.results)
        context.scene.riseline.piece = None
        self.report({"INFO"}, "The layout was removed; the scan is as it was")
        return {"FINISHED"}
