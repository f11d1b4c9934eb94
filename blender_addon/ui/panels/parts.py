"""What is printed, and the way to it."""

from __future__ import annotations

import bpy

from ...bridge.both_units import shown
from ...bridge.lengths import shown_length, shown_size
from ...core.units import volume_text
from .. import ids
from .drawing import StagePanel, settings_panel, words


class PartsPanel(StagePanel, bpy.types.Panel):
    """The parts to print"""

    bl_idname = "RISELINE_PT_parts"
    bl_label = "Parts"

    def draw(self, context: bpy.types.Context) -> None:
        row = self.layout.row()
        row.scale_y = 1.4
        row.operator(ids.EXPORT_PARTS, icon="EXPORT")
        StagePanel.draw(self, context)
        self.layout.operator(ids.REMOVE_LAYOUT, icon="TRASH")

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        layout.row().prop(context.scene.riseline, "parts_lie", expand=True)
        scene = context.scene
        words(layout, context, f"{shown(scene, found, 'parts_hold_shopping')}.", "MOD_SCREW")
        words(layout, context, f"{shown(scene, found, 'parts_hold_bears')}.")
        for part in found.parts:
            size = shown_size(context.scene, (part.wide_mm, part.deep_mm, part.tall_mm))
            box = layout.box().column(align=True)
            box.scale_y = 0.85
            row = box.row()
            row.label(text=part.name.title(), icon=ICONS.get(part.role, "DOT"))
            row.operator(ids.EXPORT_PART, text="", icon="EXPORT").part = part.name
            if part.over_bed_mm > 0.0:
                over = shown_length(context.scene, part.over_bed_mm)
                words(box, context, f"{over} too large for the print bed", "ERROR")
            box.label(text=size, icon="BLANK1")
            box.label(text=f"{volume_text(part.volume_ml)}, {part.lies}", icon="BLANK1")


ICONS = {"case": "MESH_CYLINDER", "base": "MESH_PLANE", "funnel": "MESH_CONE"}

PartsSettingsPanel = settings_panel("parts", PartsPanel.bl_idname)
