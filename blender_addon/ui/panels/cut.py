"""The slit that lets the piece out."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_length
from .drawing import StagePanel, fact, settings_panel, words

CAUTION = "Clamp the block, cut away from your hand, and wear a glove that resists cuts."


class CutPanel(StagePanel, bpy.types.Panel):
    """Where the knife goes"""

    bl_idname = "RISELINE_PT_cut"
    bl_label = "Cut"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        fact(layout, "Kind", found.cut_kind.capitalize())
        fact(layout, "Length", shown_length(scene, found.cut_slit_length_mm))
        fact(layout, "Stretch Needed", f"{found.cut_needed_stretch:.0%}")
        fact(layout, "Stretch Allowed", f"{found.cut_allowed_stretch:.0%}")
        if found.depths:
            layout.separator()
            layout.label(text="Knife Depth by Height")
        for depth in found.depths:
            height = f"At {shown_length(scene, depth.z_mm)}"
            fact(layout, height, f"{shown_length(scene, depth.depth_mm)} deep")
        words(layout, context, CAUTION, "ERROR")


CutSettingsPanel = settings_panel("cut", CutPanel.bl_idname)
