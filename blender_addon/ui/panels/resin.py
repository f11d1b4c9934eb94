"""The copy."""

from __future__ import annotations

import bpy

from ...bridge.both_units import shown
from ...bridge.lengths import shown_length
from ...core.units import mass_text, time_text, volume_text, weigh_text
from .data_sheet import FIELDS, data_sheet_panel, draw_trouble
from .drawing import SidebarPanel, StagePanel, fact, settings_panel, words

CAUTION = (
    "Resin gives off heat and vapor: gloves, goggles, moving air, and no fill heavier or thicker "
    "than the data sheet allows. A pressure pot only within its rated limits."
)
CHAIN_FIELDS = (
    "plaster_percent", "ceramic_percent", "opening", "wanted_height", "wanted_width",
    "wanted_opening",
)  # fmt: skip
ELSEWHERE = frozenset({
    "materials_file", "lean_deg", "lean_towards_deg", "plaster_percent", "ceramic_percent",
    "opening_mm", "wanted_height_mm", "wanted_width_mm", "wanted_opening_mm",
})  # fmt: skip


class ResinPanel(StagePanel, bpy.types.Panel):
    """The resin for one copy"""

    bl_idname = "RISELINE_PT_resin"
    bl_label = "Resin"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        draw_trouble(layout, context, "resin")
        _draw_reading(layout, context, found)
        copy = f"{volume_text(found.resin_copy_ml)}, {mass_text(found.resin_copy_g)}"
        fact(layout, "Solid Copy", copy)
        shell = f"{volume_text(found.resin_shell_ml)}, {mass_text(found.resin_shell_g)}"
        fact(layout, "Shell", shell)
        for number, coat in enumerate(found.coats, start=1):
            fact(layout, f"Coat {number}", _parts(coat))
        _draw_coat(layout, context, found)
        _draw_fills(layout, context, found)
        if found.resin_hollow_ml:
            fact(layout, "Stays Hollow", volume_text(found.resin_hollow_ml))
        _draw_rim(layout, context, found)
        if found.resin_cost:
            fact(layout, "Cost of a Copy", f"{found.resin_cost:.2f}")
        words(layout, context, CAUTION, "ERROR")


def _parts(batch: bpy.types.PropertyGroup) -> str:
    return f"A {weigh_text(batch.a_g)} + B {weigh_text(batch.b_g)}"


def _draw_reading(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    """Draw the one field that answers at once."""
    whole, box = context.scene.riseline, layout.box().column()
    box.use_property_decorate = False
    field = box.column()
    field.scale_y = 1.3
    field.prop(whole, "stands_short")
    box.prop(whole, "stands_in", text="")
    lean = box.row(align=True)
    lean.prop(whole, "mold_lean")
    if whole.mold_lean:
        box.prop(whole, "mold_lean_hour")
    answer = box.column()
    answer.scale_y = 1.3
    if found.answer_trouble:
        words(answer, context, found.answer_trouble, "ERROR")
        return
    fact(answer, "Mix Now", f"A {weigh_text(found.answer_a_g)}")
    fact(answer, "", f"B {weigh_text(found.answer_b_g)}")
    fact(box, "Still to Fill", f"{volume_text(found.answer_ml)}, {weigh_text(found.answer_g)}")
    if found.answer_wedge_ml:
        fact(box, "Empty until Level", volume_text(found.answer_wedge_ml))
    box.prop(whole, "show_fill_curve")


def _draw_coat(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    """Draw the field that tells how thick any other mix gets."""
    box = layout.box().column()
    box.use_property_decorate = False
    box.prop(context.scene.riseline, "coat_g")
    thick = shown_length(context.scene, found.coat_mm)
    fact(box, "Coat Thickness", f"over {thick}" if found.coat_is_thicker else thick)


def _draw_fills(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    if not found.fills:
        return
    layout.separator()
    layout.label(text="Fill Up To, below the Rim")
    for fill in found.fills:
        to_rim = fill.to_mm_below_rim <= 0.0
        depth = "The Rim" if to_rim else shown_length(context.scene, fill.to_mm_below_rim)
        fact(layout, depth, _parts(fill))
    if found.resin_fills_because:
        words(layout, context, shown(context.scene, found, "resin_fills_because"))
    limit = shown_length(context.scene, found.resin_heat_limit_mm)
    by_sheet = context.scene.riseline.resin.deepest_fill_mm > 0.0
    fact(layout, "Deepest Allowed" if by_sheet else "Thickest Allowed", limit)
    fact(layout, "Cools in About", time_text(found.resin_heat_cools_s))
    fact(layout, "Never Hotter Than", f"{found.resin_heat_most_c:.0f} °C")


def _draw_rim(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    scene = context.scene
    layout.separator()
    fact(layout, "Opening, Across", shown_length(scene, found.resin_opening_across_mm))
    fact(layout, "Plug", mass_text(found.resin_opening_plug_g))
    fact(layout, "True Base, below Rim", shown_length(scene, found.resin_true_base_mm_below_rim))
    fact(layout, "Sanded Off", mass_text(found.resin_sanded_g))


class ShrinkagePanel(SidebarPanel, bpy.types.Panel):
    """What shrinks on the way, and what size to sculpt"""

    bl_idname = "RISELINE_PT_shrinkage"
    bl_label = "Shrinkage"
    bl_parent_id = ResinPanel.bl_idname

    def draw(self, context: bpy.types.Context) -> None:
        layout, scene = self.layout.column(), context.scene
        found, group = scene.riseline.results, scene.riseline.resin
        width_mm, height_mm = max(found.scan_size_mm[:2]), found.scan_size_mm[2]
        for step in found.shrinks:
            box = layout.box().column()
            box.label(text=step.name.title())
            fact(box, "Height", shown_length(scene, height_mm * step.by_clay))
            fact(box, "Width", shown_length(scene, width_mm * step.by_clay))
            if group.opening_mm:
                fact(box, "Opening", shown_length(scene, group.opening_mm * step.by_clay))
        layout.use_property_decorate = False
        for name in CHAIN_FIELDS:
            layout.prop(group, name)
        if not found.token:
            return
        for name in ("height", "width", "opening"):
            if wanted_mm := getattr(group, f"wanted_{name}_mm"):
                sculpt = shown_length(scene, wanted_mm * found.resin_sculpt_times)
                fact(layout, f"Sculpt the {name.title()}", sculpt)


ResinSheetPanel = data_sheet_panel("resin", ResinPanel.bl_idname)
ResinSettingsPanel = settings_panel("resin", ResinPanel.bl_idname, FIELDS["resin"] | ELSEWHERE)
