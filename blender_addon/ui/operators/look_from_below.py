"""What will trap air is seen from below."""

from __future__ import annotations

import bpy

from .. import ids, polls
from ..view import look_up_at_map


class LookFromBelow(bpy.types.Operator):
    """Turn the view to the underside of the piece, where air stays"""

    bl_idname = ids.LOOK_FROM_BELOW
    bl_label = "Look from Below"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.shows_layout)

    def execute(self, context: bpy.types.Context) -> set[str]:
        look_up_at_map(context)
        return {"FINISHED"}
