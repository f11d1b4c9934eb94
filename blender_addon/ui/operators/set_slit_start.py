"""Where the slit starts: kept where it is, taken from the 3D cursor, or free."""

from __future__ import annotations

import bpy

from ...bridge.slit_start import cursor_deg
from .. import ids, polls

_WHERE = bpy.props.EnumProperty(
    name="Where",
    description="What sets the start of the slit",
    items=[
        ("KEEP", "Keep", "Where it starts now"),
        ("CURSOR", "3D Cursor", "On the side of the piece where the 3D cursor is"),
        ("FREE", "Free", "Wherever it is best"),
    ],
)


class SetSlitStart(bpy.types.Operator):
    """Say where the slit starts on the base of the piece"""

    bl_idname = ids.SET_SLIT_START
    bl_label = "Set Slit Start"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.shows_layout)
    where: _WHERE

    def execute(self, context: bpy.types.Context) -> set[str]:
        whole = context.scene.riseline
        degrees = -1.0
        if self.where == "KEEP":
            degrees = whole.results.cut_start_deg
        elif self.where == "CURSOR":
            degrees = cursor_deg(context.scene)
            if degrees is None:
                self.report({"WARNING"}, "The master is no longer in the scene: lay out again")
                return {"CANCELLED"}
        whole.cut.start_deg = degrees
        return {"FINISHED"}
