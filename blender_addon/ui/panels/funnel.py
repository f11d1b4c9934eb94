"""The funnel on the rim."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_area, shown_length
from ...core.units import time_text, volume_text
from .drawing import StagePanel, fact, settings_panel


class FunnelPanel(StagePanel, bpy.types.Panel):
    """The funnel that sends the rubber down the channel"""

    bl_idname = "RISELINE_PT_funnel"
    bl_label = "Funnel"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        fact(layout, "Throat", shown_area(context.scene, found.funnel_throat_area_cm2))
        fact(layout, "Flows as Round", shown_length(scene, found.funnel_throat_mm))
        fact(layout, "Bowl, Across", shown_length(scene, found.funnel_bowl_mm))
        fact(layout, "Bowl Holds", volume_text(found.funnel_bowl_ml))
        fact(layout, "Height", shown_length(scene, found.funnel_height_mm))
        fact(layout, "Pour Takes", time_text(found.rubber_pour_s))


FunnelSettingsPanel = settings_panel("funnel", FunnelPanel.bl_idname)
