"""The tour of a new layout: one look after the other, by one button."""

from __future__ import annotations

import bpy

from ...bridge import names
from ...bridge.show import own_objects
from ...bridge.turned_eye import turned_eye
from ...bridge.views import set_shown
from .. import ids, polls
from ..tour import STOPS
from ..view import frame, look_at_map, look_from

RUBBER_LEVEL_PERCENT = 60.0
"""Where the tour lets the rubber stand: the slider goes on from there."""

_BACK = bpy.props.BoolProperty(options={"HIDDEN", "SKIP_SAVE"})


class NextStop(bpy.types.Operator):
    """Show the next thing to look at before anything is printed or poured"""

    bl_idname = ids.NEXT_STOP
    bl_label = "Look at Next Thing"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.shows_layout)
    back: _BACK

    def execute(self, context: bpy.types.Context) -> set[str]:
        stored = context.scene.riseline
        if self.back:
            stored.tour = max(stored.tour - 2, 0)
        if stored.tour >= len(STOPS):
            stored.tour = 0
        stop = STOPS[stored.tour]
        stored.tour += 1
        if "rubber" in stop.shows and stored.rubber_level <= 0.0:
            stored.rubber_level = RUBBER_LEVEL_PERCENT
        set_shown(context.scene, stop.shows)
        every = own_objects(context.scene)
        things = [one for one in every if one[names.OWN] in stop.roles]
        if things and stop.eye is None:
            look_at_map(context)
        elif things:
            look_from(context, turned_eye(every, *stop.by, stop.eye) if stop.by else stop.eye)
            frame(context, things)
        return {"FINISHED"}
