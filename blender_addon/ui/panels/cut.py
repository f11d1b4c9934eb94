"""The cut that lets the piece out."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_area, shown_length
from ...core.units import volume_text
from .. import ids
from .drawing import SidebarPanel, StagePanel, draw_field, fact, settings_panel, words

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
        fact(layout, "Cut", found.cut_kind.capitalize())
        if found.cut_kind == "none":
            fact(layout, "Stretch Uncut", f"{found.cut_needed_stretch:.0%}")
            _draw_webs(layout, scene, found)
            return
        fact(layout, "Line on the Piece", shown_length(scene, found.cut_slit_length_mm))
        pull = f"{found.cut_pull_least_n:.0f}-{found.cut_pull_most_n:.0f} N"
        fact(layout, "To Open", f"{found.cut_pull_word.capitalize()} ({pull})")
        fact(layout, "Suction at the Most", f"{found.cut_pull_suction_n:.0f} N")
        fact(layout, "Stretch Uncut", f"{found.cut_needed_stretch:.0%}")
        fact(layout, "Stretch Then", f"{found.cut_pull_stretch:.0%}")
        fact(layout, "Safe", f"{found.cut_allowed_stretch:.0%}")
        if found.cut_kind == "one slit":
            _draw_lips(layout, scene, found)
        layout.prop(scene.riseline, "show_stretch_curve", toggle=True, icon="FCURVE")
        _draw_ways(layout, scene, found)
        _draw_webs(layout, scene, found)
        words(layout, context, CAUTION, "ERROR")


def _draw_lips(
    layout: bpy.types.UILayout, scene: bpy.types.Scene, found: bpy.types.PropertyGroup
) -> None:
    """Draw what the two lips of the slit are, must do, and would have to be by themselves."""
    layout.separator()
    layout.label(text="Its Two Lips")
    fact(layout, "Length", shown_length(scene, found.cut_lips_length_mm))
    fact(layout, "Let Pass", f"{shown_length(scene, found.cut_lips_girth_mm)} round")
    fact(layout, "Stretch for It", f"{found.cut_lips_stretch:.0%}")
    fact(layout, "Enough Alone", shown_length(scene, found.cut_lips_alone_mm))


def _draw_ways(
    layout: bpy.types.UILayout, scene: bpy.types.Scene, found: bpy.types.PropertyGroup
) -> None:
    """Draw both ways to open the block, side by side."""
    layout.separator()
    layout.label(text="Both Ways to Open")
    ways = list(found.cut_ways)
    rows = [
        ("", [one.kind.title() for one in ways]),
        ("Piece", [shown_length(scene, one.length_mm) for one in ways]),
        ("Rubber", [shown_area(scene, one.area_cm2, ".0f") for one in ways]),
        ("Stretch Then", [f"{one.stretch:.0%}" for one in ways]),
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
        fact(row, shown_area(scene, web.area_cm2), f"{shown_length(scene, web.width_mm)} wide")
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
        column.prop(cut, "split")
        column.separator()
        column.label(text="Faces No Cut May Cross")
        for operator in ids.MARKING:
            column.operator(operator)
        column.separator()
        column.operator(ids.WRITE_COMMAND_FILES)


def _is_set(cut: bpy.types.PropertyGroup, where: str) -> bool:
    return (where == "FREE" and cut.start_deg < 0.0) or (where == "KEEP" and cut.start_deg >= 0.0)


class CutKnifePanel(SidebarPanel, bpy.types.Panel):
    """How deep the knife goes from the outside of the block"""

    bl_idname = "RISELINE_PT_cut_knife"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "Knife Depths"

    def draw(self, context: bpy.types.Context) -> None:
        found, scene, column = context.scene.riseline.results, context.scene, self.layout.column()
        if found.cut_tooth_mm > 0.0:
            fact(column, "Teeth", f"every {shown_length(scene, found.cut_tooth_mm)}")
        side = found.depths[0].side if found.depths else ""
        for depth in found.depths:
            if depth.side != side:
                side = depth.side
                column.label(text=f"From the {side.title()}")
            height = f"At {shown_length(scene, depth.z_mm)}"
            fact(column, height, f"{shown_length(scene, depth.depth_mm)} deep")


class CutClassesPanel(SidebarPanel, bpy.types.Panel):
    """How high to slit in other rubbers, and how hard that opens; typical values"""

    bl_idname = "RISELINE_PT_cut_classes"
    bl_parent_id = CutPanel.bl_idname
    bl_label = "In Other Rubbers"

    def draw(self, context: bpy.types.Context) -> None:
        column = self.layout.column()
        for one in context.scene.riseline.results.cut_classes:
            end = shown_length(context.scene, one.slit_to_mm)
            column.label(text=one.name)
            fact(column, f"    Slit to {end}", f"{one.word.capitalize()} ({one.force_n:.0f} N)")


CutSettingsPanel = settings_panel("cut", CutPanel.bl_idname, WHERE)
