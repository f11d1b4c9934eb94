"""The case leaned in the view, and back upright."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import bpy

from ...bridge.leaning import Lean
from ...core.bubbles.lean_grid import direction_of
from .. import ids, polls
from ..long_work import LongWork
from ..view import redraw

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from ...core.desk.pour import Pour
    from ...core.watch import Watch

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
    doing = "Leaning the case"
    lean: _LEAN
    hour: _HOUR
    towards_deg: _TOWARDS

    def gather(self, context: bpy.types.Context) -> Callable[[Watch], Pour]:
        by_clock = self.towards_deg == BY_THE_CLOCK
        towards_deg = direction_of(self.hour) if by_clock else self.towards_deg
        self._lean = Lean(context.scene, math.degrees(self.lean), towards_deg)
        return self._lean.run

    def pace_s(self) -> Mapping[str, float]:
        return {STAGE: 1.0}

    def finish(self, context: bpy.types.Context, pour: Pour) -> set[str]:
        self._lean.bring_back(pour)
        redraw(context)
        return {"FINISHED"}
