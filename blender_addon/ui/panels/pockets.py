"""The pockets of air, one a row, the largest first."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_area, shown_length
from ...core.units import volume_text
from .. import ids
from .drawing import RowList, fact, words

ROWS_SHOWN = 5


class PocketList(RowList, bpy.types.UIList):
    """Click on a pocket to look at it from below"""

    bl_idname = ids.POCKETS

    def draw_row(
        self, context: bpy.types.Context, row: bpy.types.UILayout, item: bpy.types.PropertyGroup
    ) -> None:
        numbers = row.row()
        numbers.active = not item.brushed
        numbers.label(text=volume_text(item.volume_ml))
        numbers.label(text=shown_length(context.scene, item.depth_mm))
        numbers.label(text=shown_length(context.scene, item.level_z_mm))
        row.prop(item, "brushed", text="")


def draw_pockets(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    """Draw the list, and what is known of the chosen pocket."""
    if not found.pockets:
        return
    layout.separator()
    heads = layout.row()
    for word in ("Pocket", "Depth", "Closes At", "Brushed"):
        heads.label(text=word)
    lists = (found, "pockets", found, "pocket_row")
    layout.template_list(ids.POCKETS, "", *lists, rows=ROWS_SHOWN, sort_lock=True)
    if 0 <= found.pocket_row < len(found.pockets):
        pocket = found.pockets[found.pocket_row]
        _draw_chosen(layout.box().column(), context, pocket, tried=bool(found.leans))


def _draw_chosen(
    layout: bpy.types.UILayout,
    context: bpy.types.Context,
    pocket: bpy.types.PropertyGroup,
    *,
    tried: bool,
) -> None:
    fact(layout, "Trapped", volume_text(pocket.volume_ml))
    fact(layout, "Covers", shown_area(context.scene, pocket.area_cm2))
    fact(layout, "Closes At", shown_length(context.scene, pocket.level_z_mm))
    fact(layout, "Rubber until Then", volume_text(pocket.rubber_ml))
    if pocket.kind != "underside":
        words(layout, context, "It has no way out: fill it with clay, or brush it full.", "ERROR")
    elif pocket.freed_degrees > 0.0:
        where = f"{pocket.freed_degrees:.0f}° to {pocket.freed_hour} o'clock"
        text = f"Leaned {where} it comes free; the channel is at 12."
        words(layout, context, text, "ORIENTATION_GIMBAL")
    elif tried:
        words(layout, context, "No lean that was looked at frees it.", "ORIENTATION_GIMBAL")
