"""Where air stays, and what to brush."""

from __future__ import annotations

import bpy

from ...bridge import materials, names
from ...bridge.lengths import shown_area
from ...core.units import mass_text, volume_text
from .. import ids
from .drawing import StagePanel, fact, settings_panel
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
        _draw_ways(layout, found)
        _draw_painting(layout)
        _draw_legend(layout)


def _draw_ways(layout: bpy.types.UILayout, found: bpy.types.PropertyGroup) -> None:
    """Draw what each way of standing would trap, the best first; the one it stands in is marked."""
    layout.separator()
    layout.label(text="Other Ways to Stand")
    for way in found.ways:
        now = " (Now)" if way.up == found.scan_up else ""
        fact(layout, f"{way.up.upper()} Up{now}", volume_text(way.trapped_ml))


def _draw_painting(layout: bpy.types.UILayout) -> None:
    layout.separator()
    layout.label(text="Your Own Paint on the Map")
    column = layout.column(align=True)
    for operator in ids.PAINTING:
        column.operator(operator)


def _draw_legend(layout: bpy.types.UILayout) -> None:
    """Draw the colours of the brush map, the gravest first; a click changes one."""
    layout.separator()
    layout.label(text="Colors of the Brush Map")
    for kind in reversed(names.CLASSES[1:]):
        material = materials.find(kind)
        if material is not None:
            row = layout.split(factor=0.2)
            row.prop(material, "diffuse_color", text="")
            row.label(text=kind)


BubblesSettingsPanel = settings_panel("bubbles", BubblesPanel.bl_idname)
