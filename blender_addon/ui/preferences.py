"""The add-on's preferences: the user's own lists, the same in every file."""

from __future__ import annotations

import bpy

from ..bridge import shelf
from ..bridge.user_files import PACKAGE
from . import ids

ROWS_SHOWN = 6

NAME_SHARE = 0.36
"""Of a row's width: names of tubes are longer than their numbers."""

TubeRow = shelf.tube_row_group()

_TUBES = bpy.props.CollectionProperty(type=TubeRow)
_CHOSEN = bpy.props.IntProperty(name="Tube", default=0, min=0)
_INCHES = bpy.props.BoolProperty(
    name="In Inches", description="Show and type the sizes of tubes in inches", default=False
)


class TubeList(bpy.types.UIList):
    """The tubes on your shelf"""

    bl_idname = ids.TUBES

    def draw_item(
        self,
        context: bpy.types.Context,
        layout: bpy.types.UILayout,
        data: bpy.types.AddonPreferences,
        item: bpy.types.PropertyGroup,
        icon: int,
        active_data: bpy.types.AddonPreferences,
        active_property: str,
        index: int,
    ) -> None:
        named, row = _columns(layout)
        named.alert = row.alert = bool(shelf.fault_of(data.tubes, index))
        named.prop(item, "name", text="", emboss=False)
        for name in ("outer_diameter", "inner_diameter", "length", "price_per_m"):
            row.prop(item, name, text="", emboss=False)


class RiselinePreferences(bpy.types.AddonPreferences):
    """Your own lists"""

    bl_idname = PACKAGE
    tubes: _TUBES
    tube: _CHOSEN
    inches: _INCHES

    def draw(self, context: bpy.types.Context) -> None:
        _draw_tubes(self.layout, self)


def _columns(layout: bpy.types.UILayout) -> tuple[bpy.types.UILayout, bpy.types.UILayout]:
    """Return the room for a tube's name, and that for its numbers beside it."""
    split = layout.split(factor=NAME_SHARE, align=True)
    return split.row(), split.row(align=True)


def _draw_tubes(layout: bpy.types.UILayout, own: RiselinePreferences) -> None:
    head = layout.row()
    head.label(text="Your Tubes", icon="MESH_CYLINDER")
    head.prop(own, "inches")
    unit = "in" if own.inches else "mm"
    name, titles = _columns(layout)
    name.label(text="Name")
    for title in (f"Outside ({unit})", f"Inside ({unit})", f"Left ({unit})", "Price per m"):
        titles.label(text=title)
    row = layout.row()
    row.template_list(ids.TUBES, "", own, "tubes", own, "tube", rows=ROWS_SHOWN)
    buttons = row.column(align=True)
    buttons.operator(ids.ADD_TUBE, text="", icon="ADD")
    buttons.operator(ids.REMOVE_TUBE, text="", icon="REMOVE")
    if own.tube < len(own.tubes):
        _draw_chosen(layout, own, unit)
    files = layout.row()
    files.operator(ids.IMPORT_TUBES, icon="IMPORT")
    files.operator(ids.EXPORT_TUBES, icon="EXPORT")
    if shelf.shelf.trouble:
        box = layout.box()
        box.alert = True
        box.label(text=shelf.shelf.trouble, icon="ERROR")
    if not own.tubes:
        layout.label(text="While the list is empty, common sizes are taken", icon="INFO")


def _draw_chosen(layout: bpy.types.UILayout, own: RiselinePreferences, unit: str) -> None:
    tube = own.tubes[own.tube]
    box = layout.box().column()
    box.use_property_split = True
    box.use_property_decorate = False
    box.prop(tube, "name")
    box.prop(tube, "outer_diameter", text=f"Outside ({unit})")
    box.prop(tube, "inner_diameter", text=f"Inside ({unit})")
    box.prop(tube, "material")
    box.prop(tube, "length", text=f"Length Left ({unit})")
    box.prop(tube, "price_per_m")
    if fault := shelf.fault_of(own.tubes, own.tube):
        box.label(text=f"{fault}: until then it is not kept", icon="ERROR")
