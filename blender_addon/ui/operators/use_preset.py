"""Settings for a size of piece, in one word."""

from __future__ import annotations

import bpy

from ...bridge.properties import STAGES, setting_fields
from ...core.presets import PRESETS, preset
from .. import ids, polls

TIPS = {
    "small": "Up to about 80 mm (3 in): thin walls of rubber, a fine brush, small teeth",
    "medium": "Up to about 250 mm (10 in): what every setting begins with",
    "large": "Larger pieces: thicker rubber, a wider channel, larger teeth and bolts",
}
_PRESET = bpy.props.EnumProperty(
    name="Size of Piece",
    description="How large the piece is that the settings are for",
    items=[(one, one.title(), TIPS[one]) for one in PRESETS],
    default="medium",
)


class UsePreset(bpy.types.Operator):
    """Set everything that depends on the size of the piece; your materials and lists stay"""

    bl_idname = ids.USE_PRESET
    bl_label = "Use Preset"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    preset: _PRESET

    def execute(self, context: bpy.types.Context) -> set[str]:
        wanted = preset(self.preset)
        touched = {(stage, key) for one in PRESETS.values() for stage in one for key in one[stage]}
        for stage in STAGES:
            group, values = getattr(context.scene.riseline, stage), getattr(wanted, stage)
            for field in setting_fields(stage):
                if (stage, field.name) in touched:
                    setattr(group, field.name, getattr(values, field.name))
        self.report({"INFO"}, f"Settings for a {self.preset} piece; materials stay as they were")
        return {"FINISHED"}
