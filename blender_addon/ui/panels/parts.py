"""What is printed, and the way to it."""

from __future__ import annotations

import bpy

from ...core.units import volume_text
from .. import ids
from .drawing import StagePanel, fact, settings_panel


class PartsPanel(StagePanel, bpy.types.Panel):
    """The parts to print"""

    bl_idname = "RISELINE_PT_parts"
    bl_label = "Parts"

    def draw(self, context: bpy.types.Context) -> None:
        row = self.layout.row()
        row.scale_y = 1.4
        row.operator(ids.EXPORT_PARTS, icon="EXPORT")
        super().draw(context)
        self.layout.operator(ids.REMOVE_LAYOUT, icon="TRASH")

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        for part in found.parts:
            fact(layout, part.name.title(), volume_text(part.volume_ml))


PartsSettingsPanel = settings_panel("parts", PartsPanel.bl_idname)
