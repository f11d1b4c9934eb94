"""The case leaned in the view, and back upright."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import bpy

from ...bridge.leaning import Lean
from ...core.bubbles.lean_grid import direction_of
from ...core.errors import RiselineError
from ...core.watch import Watch
from .. import ids, polls
from ..long_work import LongWork
from ..view import redraw

if TYPE_CHECKING:
    from ...core.desk.pour import Pour

STAGE = "Rubber"

BY_THE_CLOCK = 1000.0
"""Stands for no way in degrees: the hour tells it."""

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

_TOWARDS = bpy.props.FloatProperty(
    description="The way in degrees, where it is no full hour",
    default=BY_THE_CLOCK,
    options={"HIDDEN", "SKIP_SAVE"},
)


class LeanCase(LongWork, bpy.types.Operator):
    """Lean the case in the view, and see the rubber rise and the air stay behind as it leans"""

    bl_idname = ids.LEAN_CASE
    bl_label = "Lean Case"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.has_layout)
    lean: _LEAN
    hour: _HOUR
    towards_deg: _TOWARDS

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Pour straight through."""
        try:
            self._lean = self._gathered(context)
            return self.finish(context, self._lean.run(Watch()))
        except RiselineError as error:
            return self.give_up(error)

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Pour beside the window."""
        if bpy.app.background:
            return self.execute(context)
        try:
            self._lean = self._gathered(context)
        except RiselineError as error:
            return self.give_up(error)
        return self.begin(context, self._lean.run, {STAGE: 1.0}, "Leaning the case")

    def finish(self, context: bpy.types.Context, pour: Pour) -> set[str]:
        self._lean.bring_back(pour)
        redraw(context)
        return {"FINISHED"}

    def _gathered(self, context: bpy.types.Context) -> Lean:
        by_clock = self.towards_deg == BY_THE_CLOCK
        towards_deg = direction_of(self.hour) if by_clock else self.towards_deg
        return Lean(context.scene, math.degrees(self.lean), towards_deg)
