"""Less to brush than was found."""

from __future__ import annotations

import bpy

from ...core.bubbles.paint import ERASED
from .. import ids, polls
from ..painting import paint


class TakeOffMap(bpy.types.Operator):
    """Leave the selected faces to the pour, whatever is computed"""

    bl_idname = ids.TAKE_OFF_MAP
    bl_label = "Take off Brush Map"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_paint)

    def execute(self, context: bpy.types.Context) -> set[str]:
        return paint(self, context, ERASED)
