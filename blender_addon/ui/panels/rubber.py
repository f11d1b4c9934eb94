"""What to weigh out."""

from __future__ import annotations

import itertools

import bpy

from ...bridge.lengths import shown_length
from ...core.catalog.pots import PRESSURE
from ...core.rubber.budget import NO, YES
from ...core.rubber.pots import TOO_LARGE
from ...core.units import (
    mass_text,
    pressure_text,
    time_text,
    vacuum_text,
    volume_text,
    weigh_text,
)
from .. import ids
from .data_sheet import FIELDS, data_sheet_panel, draw_trouble
from .drawing import SidebarPanel, StagePanel, fact, fitted, settings_panel, words

CAUTION = (
    "Wear gloves and goggles and keep air moving. Density, pot life and mix ratio are typical "
    "values: enter those of your data sheet, it goes before them."
)
POT_CAUTION = (
    "Only vessels made and rated for it, with gauge and relief valve. Cast rubber and resin at the "
    "same pressure; let all of it out before you open."
)
POT_FIELDS = frozenset({"pressure_kpa", "vacuum_kpa", "air_kpa", "vessel_times", "pots_file"})


class RubberPanel(StagePanel, bpy.types.Panel):
    """The rubber for the block"""

    bl_idname = "RISELINE_PT_rubber"
    bl_label = "Rubber"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        draw_trouble(layout, context, "rubber")
        _draw_scale(layout, found)
        _draw_time(layout, found)
        layout.separator()
        fact(layout, "Fills the Case", volume_text(found.rubber_volume_ml))
        fact(layout, "To Mix", volume_text(found.rubber_mix_ml))
        if found.rubber_chunks_ml:
            fact(layout, "Saved by Old Rubber", volume_text(found.rubber_chunks_ml))
        else:
            fact(layout, "Old Rubber, at Most", mass_text(found.rubber_chunks_most_g))
        fact(layout, "Block", mass_text(found.rubber_block_rubber_g))
        fact(layout, "To Lift, with Clay", mass_text(found.rubber_block_lift_g))
        if found.rubber_cost:
            fact(layout, "Cost", f"{found.rubber_cost:.2f}")
        words(layout, context, CAUTION, "ERROR")


def _draw_scale(layout: bpy.types.UILayout, found: bpy.types.PropertyGroup) -> None:
    """Draw what goes on the scale, cup by cup: the numbers that matter most."""
    box = layout.box().column()
    box.scale_y = 1.2
    first = 1
    for (a_g, b_g), alike in itertools.groupby(found.batches, lambda one: (one.a_g, one.b_g)):
        last = first + len(list(alike)) - 1
        cup = f"Cups {first} to {last}, Each" if last > first else f"Cup {first}"
        fact(box, cup if len(found.batches) > 1 else "Weigh Out", f"A {weigh_text(a_g)}")
        fact(box, "", f"B {weigh_text(b_g)}")
        first = last + 1
    if found.rubber_coat_a_g:
        fact(box, "To Brush on First", f"A {weigh_text(found.rubber_coat_a_g)}")
        fact(box, "", f"B {weigh_text(found.rubber_coat_b_g)}")


def _draw_time(layout: bpy.types.UILayout, found: bpy.types.PropertyGroup) -> None:
    """Say in a word whether it can be poured in time, then why: of one cup of several."""
    fits, each = found.rubber_budget_fits, " a Cup" if len(found.batches) > 1 else ""
    icon = {YES: "CHECKMARK", NO: "CANCEL"}.get(fits, "ERROR")
    row = layout.split(factor=0.52)
    row.alert = fits == NO
    row.label(text="In Time")
    row.label(text=fits.capitalize(), icon=icon)
    fact(layout, f"Mixing{each}", time_text(found.rubber_budget_mix_s))
    fact(layout, f"Degassing{each}", time_text(found.rubber_budget_degas_s))
    slow = found.rubber_budget_pour_s > found.rubber_pot_life_s
    fact(layout, f"Pouring{each}", "Too slow" if slow else time_text(found.rubber_budget_pour_s))
    fact(layout, "Pot Life", time_text(found.rubber_pot_life_s))


class PotsPanel(SidebarPanel, bpy.types.Panel):
    """Your pressure pots and vacuum chambers, and what they do for this block"""

    bl_idname = "RISELINE_PT_pots"
    bl_label = "Pots and Vacuum"
    bl_parent_id = RubberPanel.bl_idname

    def draw(self, context: bpy.types.Context) -> None:
        layout, found = self.layout.column(), context.scene.riseline.results
        group = context.scene.riseline.rubber
        if found.token:
            across = shown_length(context.scene, found.rubber_block_across_mm)
            fact(layout, "Block, Across", across)
            fact(layout, "Block, High", shown_length(context.scene, found.rubber_block_high_mm))
            fact(layout, "Vessel to Degas", volume_text(found.rubber_vessel_ml))
            fact(layout, "Air Grows", f"{found.rubber_growth:.0f} times")
        for pot in found.pots:
            _draw_pot(layout.box().column(), context, pot)
        layout.operator(ids.ADD_POT, icon="ADD")
        for name in ("pressure_kpa", "vacuum_kpa", "air_kpa", "vessel_times"):
            layout.prop(group, name)
        words(layout, context, POT_CAUTION, "ERROR")


def _draw_pot(
    box: bpy.types.UILayout, context: bpy.types.Context, pot: bpy.types.PropertyGroup
) -> None:
    head = box.row()
    head.label(text=fitted(context, pot.name, beside=1))
    head.operator(ids.REMOVE_POT, text="", icon="X", emboss=False).name = pot.name
    what = "Block" if pot.kind == PRESSURE else "Vessel"
    fact(box, f"{what} Fits", "No" if pot.fits == TOO_LARGE else pot.fits.capitalize())
    if pot.kind == PRESSURE:
        fact(box, "Go Up To", pressure_text(pot.used_kpa))
        fact(box, "Bubbles Shrink To", f"{100.0 * pot.bubble_share:.0f} % across")
    else:
        fact(box, "Go Up To", vacuum_text(pot.used_kpa))
        fact(box, "Bubbles Grow To", f"{100.0 * pot.bubble_share:.0f} % across")


RubberSheetPanel = data_sheet_panel("rubber", RubberPanel.bl_idname)
RubberSettingsPanel = settings_panel(
    "rubber", RubberPanel.bl_idname, FIELDS["rubber"] | POT_FIELDS | {"materials_file"}
)
