"""The copy."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_length
from ...core.units import mass_text, volume_text
from .drawing import StagePanel, fact, settings_panel, words

CAUTION = (
    "Resin gives off heat and vapour: gloves, goggles, moving air, and no fill heavier or thicker "
    "than the data sheet allows. A pressure pot only within its rated limits."
)


class ResinPanel(StagePanel, bpy.types.Panel):
    """The resin for one copy"""

    bl_idname = "RISELINE_PT_resin"
    bl_label = "Resin"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        copy = f"{volume_text(found.resin_copy_ml)}, {mass_text(found.resin_copy_g)}"
        shell = f"{volume_text(found.resin_shell_ml)}, {mass_text(found.resin_shell_g)}"
        fact(layout, "Solid Copy", copy)
        fact(layout, "Shell", shell)
        if found.fills:
            layout.separator()
            layout.label(text="Fills, to Depth below the Rim")
        for fill in found.fills:
            depth = shown_length(context.scene, fill.to_mm_below_rim)
            fact(layout, depth, f"{volume_text(fill.ml)}, {mass_text(fill.g)}")
        words(layout, context, CAUTION, "ERROR")


ResinSettingsPanel = settings_panel("resin", ResinPanel.bl_idname)
