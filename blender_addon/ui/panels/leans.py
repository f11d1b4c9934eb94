"""Leaning the case: which lean traps least, and how the pour goes in it."""

from __future__ import annotations

import contextlib
import math

import bpy

from ...bridge.kept import kept
from ...bridge.lengths import shown_length
from ...core.units import volume_text
from .. import ids
from ..lean_icon import lean_icon
from .drawing import RowList, fact, words

ROWS_SHOWN = 4
MAP_SCALE = 7.0


class LeanList(RowList, bpy.types.UIList):
    """Click on a lean to lean the case so in the view"""

    bl_idname = ids.LEANS

    def draw_row(
        self, context: bpy.types.Context, row: bpy.types.UILayout, item: bpy.types.PropertyGroup
    ) -> None:
        row.label(text=f"{item.degrees:.0f}°")
        row.label(text=f"{item.hour} o'clock")
        row.label(text=volume_text(item.trapped_ml))


def draw_level(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    """Draw the slider that raises the rubber, and what it has come to."""
    scene, leaned = context.scene, found.shown_lean_deg > 0.0
    layout.separator()
    if leaned:
        text = f"Leaned {found.shown_lean_deg:.0f}° to {found.shown_lean_hour} o'clock"
        box = layout.box().column()
        box.label(text=text, icon="ORIENTATION_GIMBAL")
        fact(box, "Stays Trapped", volume_text(found.shown_trapped_ml))
        upright = box.operator(ids.LEAN_CASE, text="Stand Upright")
        upright.lean = 0.0
    layout.prop(scene.riseline, "rubber_level", slider=True)
    fact(layout, "Deepest Place" if leaned else "Rubber Stands At", shown_length(
        scene, found.shown_level_mm
    ))  # fmt: skip
    fact(layout, "Poured until Then", volume_text(found.shown_poured_ml))
    if leaned:
        left_ml = max(found.rubber_volume_ml - found.shown_poured_ml, 0.0)
        fact(layout, "Left for Upright", volume_text(left_ml))


def draw_leans(
    layout: bpy.types.UILayout, context: bpy.types.Context, found: bpy.types.PropertyGroup
) -> None:
    """Draw the leans that were looked at, the best first, their map, and a lean of one's own."""
    stored = context.scene.riseline
    layout.separator()
    layout.label(text="Lean of the Case")
    if found.bubbles_lean_degrees > 0.0:
        text = (
            f"Leaned {found.bubbles_lean_degrees:.0f}° to {found.lean_hour} o'clock it would "
            f"trap {volume_text(found.bubbles_lean_trapped_ml)}; the channel is at 12."
        )
        words(layout, context, text, "ORIENTATION_GIMBAL")
    if found.leans:
        layout.template_icon(lean_icon.number_of(found), scale=MAP_SCALE)
        words(layout, context, "Seen from above, the channel at the top. Dark: more air stays.")
        lists = (found, "leans", found, "lean_row")
        layout.template_list(ids.LEANS, "", *lists, rows=ROWS_SHOWN, sort_lock=True)
    row = layout.row(align=True)
    row.prop(stored, "lean")
    row.prop(stored, "lean_hour")
    lean = layout.operator(ids.LEAN_CASE)
    lean.lean, lean.hour = stored.lean, stored.lean_hour


def choose_lean(context: bpy.types.Context) -> None:
    """Lean the case as the chosen row says."""
    stored = context.scene.riseline
    found = stored.results
    if not 0 <= found.lean_row < len(found.leans) or kept.work is not None:
        return
    row = found.leans[found.lean_row]
    stored.lean, stored.lean_hour = math.radians(row.degrees), row.hour
    with contextlib.suppress(RuntimeError):  # what is wrong stands in the panel
        bpy.ops.riseline.lean_case(
            "INVOKE_DEFAULT", lean=stored.lean, hour=row.hour, towards_deg=row.towards_deg
        )
