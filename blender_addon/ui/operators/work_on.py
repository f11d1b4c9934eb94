"""Several pieces in one scene: which one the tab is about."""

from __future__ import annotations

import bpy

from ...bridge.lengths import read_as_on_a_ruler
from ...bridge.sculpts import pieces, work_on
from ...bridge.show import own_objects
from .. import ids, polls
from ..view import frame

_NAME = bpy.props.StringProperty(
    name="Piece", description="Which piece of this scene", options={"SKIP_SAVE"}
)


class WorkOn(bpy.types.Operator):
    """Go over to this piece; the settings, numbers and layout of the one before are kept"""

    bl_idname = ids.WORK_ON
    bl_label = "Work on This Piece"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    name: _NAME

    def execute(self, context: bpy.types.Context) -> set[str]:
        piece = context.scene.objects.get(self.name)
        if piece is None or not polls.is_scan(piece):
            self.report({"WARNING"}, f"There is no scan named {self.name!r} in this scene")
            return {"CANCELLED"}
        for other in context.selected_objects:
            other.select_set(state=False)
        if context.view_layer.objects.get(piece.name) == piece:
            piece.select_set(state=True)
            context.view_layer.objects.active = piece
        if piece not in pieces(context.scene):
            read_as_on_a_ruler(context.scene)
        work_on(context.scene, piece)
        frame(context, own_objects(context.scene) or [piece])
        return {"FINISHED"}
