"""From a warning to the place that it speaks of."""

from __future__ import annotations

import bpy

from .. import ids, polls
from ..view import frame_place

_PLACE = bpy.props.FloatVectorProperty(size=3, options={"HIDDEN", "SKIP_SAVE"})


class ShowPlace(bpy.types.Operator):
    """Turn the view to the place that this is about, and mark it"""

    bl_idname = ids.SHOW_PLACE
    bl_label = "Show Me"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.shows_layout)
    at_mm: _PLACE

    def execute(self, context: bpy.types.Context) -> set[str]:
        if not frame_place(context, tuple(self.at_mm)):
            self.report({"WARNING"}, "The master is no longer in the scene: lay out again")
            return {"CANCELLED"}
        return {"FINISHED"}
