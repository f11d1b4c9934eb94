"""The cut that lets the piece out."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_area, shown_length
from ...core.units import stretch_text, volume_text
from .. import ids
from .drawing import (
    FoundPanel,
    SidebarPanel,
    StagePanel,
    draw_field,
    fact,
    fitted,
    settings_panel,
    words,
)

CAUTION = "Clamp the block, cut away from your hand, and wear a glove that resists cuts."

WHERE = frozenset({"way", "side", "start_deg", "split_deg"})
"""Settings that say where to cut; they stand in a panel of their own."""


class CutPanel(StagePanel, bpy.types.Panel):
    """Where the knife goes"""

    bl_idname = "RISELINE_PT_cut"
    bl_label = "Cut"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        if found.cut_kind == "none":
            fact(layout, "Cut", "None Found")
            fact(layout, "Stretch Uncut", stretch_text(found.cut_needed_stretch))
        else:
            box = layout.box().column()
            box.scale_y = 1.2
            fact(box, found.cut_kind.title(), shown_length(scene, found.cut_slit_length_mm))
            fact(box, "To Open", found.cut_pull_word.capitalize())
            least_n, most_n = found.cut_pull_least_n, found.cut_pull_most_n
            fact(box, "Pull", f"{least_n:.0f}-{most_n:.0f} N")
        _draw_webs(layout, scene, found)
        if found.cut_kind != "none":
            words(layout, context, CAUTION, "ERROR")


class CutOpensPanel(FoundPanel, bpy.types.Panel):
    """How far the rubber must stretch to let the piece out, and what each way to open asks for"""

    bl_idname = "RISELINE_PT_cut_opens"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "How It Opens"

    def draw(self, context: bpy.types.Context) -> None:
        layout, scene = self.layout.column(), context.scene
        found = scene.riseline.results
        fact(layout, "Stretch Uncut", stretch_text(found.cut_needed_stretch))
        fact(layout, "Stretch When Cut", stretch_text(found.cut_pull_stretch))
        fact(layout, "Safe Stretch", f"{found.cut_allowed_stretch:.0%}")
        if found.cut_kind == "one slit":
            fact(layout, "Shortest Safe Slit", shown_length(scene, found.cut_lips_alone_mm))
        if found.cut_pull_suction_n:
            fact(layout, "Suction, at Most", f"{found.cut_pull_suction_n:.0f} N")
        layout.prop(scene.riseline, "show_stretch_curve", toggle=True, icon="FCURVE")
        _draw_ways(layout, scene, found)


def _draw_ways(
    layout: bpy.types.UILayout, scene: bpy.types.Scene, found: bpy.types.PropertyGroup
) -> None:
    """Draw both ways to open the block, side by side."""
    layout.separator()
    layout.label(text="Both Ways to Open")
    ways = list(found.cut_ways)
    rows = [
        ("", [one.kind.title() for one in ways]),
        ("Cut, Piece", [shown_length(scene, one.length_mm) for one in ways]),
        ("Cut, Rubber", [shown_area(scene, one.area_cm2, ".0f") for one in ways]),
        ("Stretch", [stretch_text(one.stretch) for one in ways]),
        ("Undercut", [volume_text(one.undercut_ml) for one in ways]),
    ]
    grid = layout.grid_flow(row_major=True, columns=len(ways) + 1, even_columns=True, align=True)
    for label, values in rows:
        for text in (label, *values):
            grid.label(text=text)


def _draw_webs(
    layout: bpy.types.UILayout, scene: bpy.types.Scene, found: bpy.types.PropertyGroup
) -> None:
    if not found.webs:
        return
    layout.separator()
    layout.label(text="Webs to Cut")
    for web in found.webs:
        row = layout.row()
        fact(row, shown_area(scene, web.area_cm2), f"{shown_length(scene, web.width_mm)} thick")
        row.operator(ids.SHOW_PLACE, text="", icon="ZOOM_IN").at_mm = web.at_mm


class CutWherePanel(SidebarPanel, bpy.types.Panel):
    """Choose the way to open, and where the cut may go"""

    bl_idname = "RISELINE_PT_cut_where"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "Where to Cut"

    def draw(self, context: bpy.types.Context) -> None:
        column = self.layout.column()
        cut = context.scene.riseline.cut
        column.use_property_decorate = False
        for name in ("way", "side"):
            draw_field(column, cut, name)
        row = column.row(align=True)
        for where in ("KEEP", "CURSOR", "FREE"):
            text = {"KEEP": "Lock Start", "CURSOR": "At Cursor", "FREE": "Free"}[where]
            row.operator(ids.SET_SLIT_START, text=text, depress=_is_set(cut, where)).where = where
        draw_field(column, cut, "split")
        column.separator()
        column.label(text="Faces No Cut May Cross")
        for operator in ids.MARKING:
            column.operator(operator)


def _is_set(cut: bpy.types.PropertyGroup, where: str) -> bool:
    return (where == "FREE" and cut.start_deg < 0.0) or (where == "KEEP" and cut.start_deg >= 0.0)


class CutKnifePanel(FoundPanel, bpy.types.Panel):
    """How deep the knife goes from the outside of the block"""

    bl_idname = "RISELINE_PT_cut_knife"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "Knife Depths"

    def draw(self, context: bpy.types.Context) -> None:
        found, scene, column = context.scene.riseline.results, context.scene, self.layout.column()
        if found.cut_tooth_mm > 0.0:
            fact(column, "Teeth", f"every {shown_length(scene, found.cut_tooth_mm)}")
        side = "slit"  # it is cut from one side only
        for depth in found.depths:
            if depth.side != side:
                side = depth.side
                column.label(text=f"From the {side.title()}")
            height = f"At {shown_length(scene, depth.z_mm)}"
            fact(column, height, f"{shown_length(scene, depth.depth_mm)} deep")


class CutClassesPanel(FoundPanel, bpy.types.Panel):
    """How high to slit in other rubbers, and how hard that opens; typical values"""

    bl_idname = "RISELINE_PT_cut_classes"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "In Other Rubbers"

    def draw(self, context: bpy.types.Context) -> None:
        column = self.layout.column()
        for one in context.scene.riseline.results.cut_classes:
            end = shown_length(context.scene, one.slit_to_mm)
            column.label(text=fitted(context, one.name))
            fact(column, f"    Slit to {end}", f"{one.word.capitalize()} ({one.force_n:.0f} N)")


CutSettingsPanel = settings_panel("cut", CutPanel.bl_idname, WHERE)
