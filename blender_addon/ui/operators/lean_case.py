"""The case leaned in the view, and back upright."""

from __future__ import annotations

import math

import bpy

from ...bridge.leaning import lean_case
from ...core.bubbles.lean_grid import direction_of
from ...core.errors import RiselineError
from .. import ids, polls

_LEAN = bpy.props.FloatProperty(
    name="Lean", description="How far", subtype="ANGLE", min=0.0, max=math.radians(60.0)
)
_HOUR = bpy.props.IntProperty(
    name="To O'Clock",
    description="Where the top leans to, by a clock seen from above with the channel at 12",
    default=12,
    min=1,
    max=12,
)


class LeanCase(bpy.types.Operator):
    """Lean the case in the view, and see the rubber rise and the air stay behind as it leans"""

    bl_idname = ids.LEAN_CASE
    bl_label = "Lean Case"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.has_layout)
    lean: _LEAN
    hour: _HOUR

    def execute(self, context: bpy.types.Context) -> set[str]:
        try:
            lean_case(context.scene, math.degrees(self.lean), direction_of(self.hour))
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        return {"FINISHED"}
