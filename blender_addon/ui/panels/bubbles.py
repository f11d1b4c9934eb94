"""Where air stays, and what to brush."""

from __future__ import annotations

import bpy

from ...bridge import materials, names
from ...bridge.lengths import shown_area
from ...core.units import mass_text, volume_text
from .. import ids
from .drawing import FoundPanel, StagePanel, fact, settings_panel
from .leans import draw_leans, draw_level
from .pockets import draw_pockets


class BubblesPanel(StagePanel, bpy.types.Panel):
    """Air under the piece during the pour"""

    bl_idname = "RISELINE_PT_bubbles"
    bl_label = "Bubbles"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        fact(layout, "Trapped Air", volume_text(found.bubbles_trapped_ml))
        fact(layout, "Give or Take", volume_text(found.bubbles_bound_ml))
        if found.bubbles_doubt_columns:
            fact(layout, "Undecided", f"{found.bubbles_doubt_columns} columns")
        fact(layout, "Clinging", shown_area(scene, found.bubbles_clinging_area_cm2))
        fact(layout, "Narrow", shown_area(scene, found.bubbles_narrow_area_cm2))
        fact(layout, "Brush First", shown_area(scene, found.bubbles_prebrush_area_cm2, ".0f"))
        fact(layout, "Rubber for It", mass_text(found.bubbles_prebrush_g))
        draw_pockets(layout, context, found)
        draw_level(layout, context, found)
        draw_leans(layout, context, found)


class BubblesWaysPanel(FoundPanel, bpy.types.Panel):
    """How much air each way to stand the piece would trap, the best first"""

    bl_idname = "RISELINE_PT_bubbles_ways"
    bl_parent_id = BubblesPanel.bl_idname
    bl_label = "Other Ways to Stand"

    def draw(self, context: bpy.types.Context) -> None:
        found, layout = context.scene.riseline.results, self.layout.column()
        for way in found.ways:
            now = " (Now)" if way.up == found.scan_up else ""
            fact(layout, f"{way.up.upper()} Up{now}", volume_text(way.trapped_ml))


class BubblesMapPanel(FoundPanel, bpy.types.Panel):
    """Your own paint on the brush map, and its colors"""

    bl_idname = "RISELINE_PT_bubbles_map"
    bl_parent_id = BubblesPanel.bl_idname
    bl_label = "Brush Map"

    def draw(self, context: bpy.types.Context) -> None:
        column = self.layout.column(align=True)
        column.label(text="Your Own Paint")
        for operator in ids.PAINTING:
            column.operator(operator)
        _draw_legend(self.layout)


def _draw_legend(layout: bpy.types.UILayout) -> None:
    """Draw the colours of the brush map, the gravest first; a click changes one."""
    layout.label(text="Colors")
    for kind in reversed(names.CLASSES[1:]):
        material = materials.find(kind)
        if material is not None:
            row = layout.split(factor=0.2)
            row.prop(material, "diffuse_color", text="")
            row.label(text=kind)


BubblesSettingsPanel = settings_panel("bubbles", BubblesPanel.bl_idname)
