"""The tube, and what it has to hold."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_length
from ...core.units import volume_text
from .drawing import StagePanel, fact, settings_panel, words

CHOICES_SHOWN = 4
CAUTION = (
    "Seal and bolt for these loads at least, and test the case with water first. "
    "Cut tube with goggles on and the blade's guard in place."
)


class CasePanel(StagePanel, bpy.types.Panel):
    """The tube round the piece"""

    bl_idname = "RISELINE_PT_case"
    bl_label = "Case"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        words(layout, context, f"{found.case_name} ({found.case_kind})", "MESH_CYLINDER")
        fact(layout, "Inside Diameter", shown_length(scene, found.case_inner_diameter_mm))
        fact(layout, "Wall", shown_length(scene, found.case_wall_mm))
        fact(layout, "Height", shown_length(scene, found.case_height_mm))
        fact(layout, "Rubber up to", shown_length(scene, found.case_level_z_mm))
        fact(layout, "Thinnest Rubber", shown_length(scene, found.case_least_rubber_mm))
        fact(layout, "Pour Channel", shown_length(scene, found.case_channel_mm))
        layout.separator()
        layout.label(text="It Has to Hold")
        fact(layout, "Floor Pressure", f"{found.rubber_forces_floor_pressure_kpa:.2f} kPa")
        fact(layout, "Push on Base", f"{found.rubber_forces_base_push_n:.0f} N")
        fact(layout, "Pull on Each Seam", f"{found.rubber_forces_seam_pull_n:.0f} N")
        fact(layout, "Lift on the Piece", f"{found.rubber_forces_uplift_n:.0f} N")
        words(layout, context, CAUTION, "ERROR")
        if found.choices:
            layout.separator()
            layout.label(text="Others, and the Rubber They Take")
        for choice in found.choices[:CHOICES_SHOWN]:
            text = f"{choice.name}: {volume_text(choice.rubber_ml)}"
            words(layout, context, text, "MESH_CYLINDER")


CaseSettingsPanel = settings_panel("case", CasePanel.bl_idname)
