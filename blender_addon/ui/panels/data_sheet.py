"""What the data sheet of a material tells: picked from a list, typed, kept for the next piece."""

from __future__ import annotations

import dataclasses

import bpy

from ...bridge.bench import READERS, trouble_of
from ...bridge.properties import shown_name
from ...core.catalog.materials import CUT_FIELDS
from ...core.catalog.sheets import BY_VOLUME, ResinSheet, RubberSheet
from .. import ids
from .drawing import SidebarPanel, draw_field, fitted, words

SHEETS = {"rubber": RubberSheet, "resin": ResinSheet}
PICKS = {"rubber": ids.PICK_RUBBER, "resin": ids.PICK_RESIN}
PART_DENSITIES = ("a_density_kg_m3", "b_density_kg_m3")

FIELDS = {kind: frozenset(one.name for one in dataclasses.fields(s)) for kind, s in SHEETS.items()}
"""Names of what stands on the sheet, and so not among the other settings."""


def data_sheet_panel(kind: str, parent: str) -> type:
    """Return a new sub-panel, closed by default, for the data sheet of a rubber or a resin."""

    def draw(self: bpy.types.Panel, context: bpy.types.Context) -> None:
        _draw(self.layout, context, kind)

    body = {
        "__doc__": f"What the data sheet of your {kind} tells; it goes before typical values",
        "bl_label": "Data Sheet",
        "bl_parent_id": parent,
        "draw": draw,
    }
    return type(f"{parent}_data_sheet", (SidebarPanel, bpy.types.Panel), body)


def draw_trouble(layout: bpy.types.UILayout, context: bpy.types.Context, stage: str) -> None:
    """Say at once which field cannot be used, and why."""
    if trouble := trouble_of(context.scene, stage):
        box = layout.box()
        box.alert = True
        words(box, context, trouble, "ERROR")


def _draw(layout: bpy.types.UILayout, context: bpy.types.Context, kind: str) -> None:
    group = getattr(context.scene.riseline, kind)
    layout.use_property_decorate = False
    layout.operator_menu_enum(
        PICKS[kind], "material", text=fitted(context, group.material) or f"Pick a {kind.title()}"
    )
    draw_trouble(layout, context, kind)
    column = layout.column()
    for field in dataclasses.fields(SHEETS[kind]):
        by_volume = field.name in PART_DENSITIES and group.mix_by != BY_VOLUME
        if field.name != "material" and not by_volume:
            draw_field(column, group, shown_name(field))
    if kind == "rubber":  # of the same sheet, though the cut asks for it
        for name in CUT_FIELDS:
            column.prop(context.scene.riseline.cut, name)
    _draw_list(layout, group, kind)


def _draw_list(layout: bpy.types.UILayout, group: bpy.types.PropertyGroup, kind: str) -> None:
    layout.operator(ids.KEEP_MATERIAL, icon="ADD").kind = kind
    common = {one.material for one in READERS[kind]()}
    if group.material and group.material not in common:
        removing = layout.operator(ids.FORGET_MATERIAL, icon="REMOVE")
        removing.kind, removing.name = kind, group.material
    files = layout.row(align=True)
    files.operator(ids.IMPORT_MATERIALS, text="Import", icon="IMPORT")
    files.operator(ids.EXPORT_MATERIALS, text="Export", icon="EXPORT")
