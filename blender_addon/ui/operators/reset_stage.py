"""Back to the values that the add-on came with."""

from __future__ import annotations

import bpy

from ...bridge.outdated import OF_THE_PIECE
from ...bridge.properties import STAGES, setting_fields
from .. import ids, polls

_STAGE = bpy.props.StringProperty(options={"HIDDEN", "SKIP_SAVE"})


class ResetStage(bpy.types.Operator):
    """Set everything in this list back to its default; what you said of the piece stays"""

    bl_idname = ids.RESET_STAGE
    bl_label = "Reset to Defaults"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    stage: _STAGE

    def execute(self, context: bpy.types.Context) -> set[str]:
        for stage in [self.stage] if self.stage else STAGES:
            group = getattr(context.scene.riseline, stage)
            for field in setting_fields(stage):
                if stage != "scan" or field.name not in OF_THE_PIECE:
                    group.property_unset(field.name)
        return {"FINISHED"}
