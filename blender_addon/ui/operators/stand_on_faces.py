"""Which side is down: shown on the piece itself."""

from __future__ import annotations

import bpy

from ...bridge.stand import stand_on_selected
from ...bridge.worded import said_in
from ...core.errors import RiselineError
from .. import ids, polls


class StandOnFaces(bpy.types.Operator):
    """Turn the piece so that the selected faces, or three selected points, stand on the board"""

    bl_idname = ids.STAND_ON_FACES
    bl_label = "Stand on Selected Faces"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_pick_base)

    def execute(self, context: bpy.types.Context) -> set[str]:
        thing = context.edit_object
        bpy.ops.object.mode_set(mode="OBJECT")
        try:
            stand_on_selected(context, thing)
        except RiselineError as error:
            bpy.ops.object.mode_set(mode="EDIT")
            self.report({"WARNING"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        context.scene.riseline.scan.up = "+z"
        self.report({"INFO"}, "The piece stands on what you picked; +z is up")
        return {"FINISHED"}
