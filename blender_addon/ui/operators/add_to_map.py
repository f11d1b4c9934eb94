"""More to brush than was found."""

from __future__ import annotations

import bpy

from ...core.bubbles.paint import ADDED
from .. import ids, polls
from ..painting import paint


class AddToMap(bpy.types.Operator):
    """Brush the selected faces too, whatever is computed"""

    bl_idname = ids.ADD_TO_MAP
    bl_label = "Add to Brush Map"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_paint)

    def execute(self, context: bpy.types.Context) -> set[str]:
        return paint(self, context, ADDED)
