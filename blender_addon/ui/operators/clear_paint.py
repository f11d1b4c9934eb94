"""Back to what was found."""

from __future__ import annotations

import bpy

from .. import ids, polls
from ..painting import paint


class ClearPaint(bpy.types.Operator):
    """Forget your paint on the selected faces: they show again what is computed"""

    bl_idname = ids.CLEAR_PAINT
    bl_label = "Clear Paint"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_paint)

    def execute(self, context: bpy.types.Context) -> set[str]:
        return paint(self, context, 0)
