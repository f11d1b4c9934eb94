"""The tube, and what it has to hold."""

from __future__ import annotations

import bpy

from ...bridge.both_units import shown
from ...bridge.lengths import shown_length
from ...bridge.user_files import PACKAGE
from ...core.case.case import AUTOMATIC, ONE_DIAMETER, PRINTED, STOCK
from ...core.units import mass_text
from .. import ids
from .drawing import FoundPanel, StagePanel, fact, fitted, settings_panel, words

CAUTION = (
    "Seal and hold for these loads at least, and test the case with water first. "
    "Cut tube with goggles on and the blade's guard in place."
)


LEAST_SAVED_G = 1.0
"""Less than this is not worth a word."""


class CasePanel(StagePanel, bpy.types.Panel):
    """The tube round the piece"""

    bl_idname = "RISELINE_PT_case"
    bl_label = "Case"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        scene = context.scene
        words(
            layout,
            context,
            _titled(shown(scene, found, "case_name"), found.case_kind),
            "MESH_CYLINDER",
        )
        of_stock = found.case_kind == STOCK
        across = "Inside" if found.case_kind in ONE_DIAMETER else "Widest Inside"
        fact(layout, across, shown_length(scene, found.case_inner_diameter_mm))
        high = "Saw It To" if of_stock else "Height"
        fact(layout, high, shown_length(scene, found.case_height_mm))
        fact(layout, "Wall", shown_length(scene, found.case_wall_mm))
        fact(layout, "Rubber Up To", shown_length(scene, found.case_level_z_mm))
        fact(layout, "Pour Channel", shown_length(scene, found.case_channel_mm))
        row = layout.row()
        fact(row, "Thinnest Rubber", shown_length(scene, found.case_least_rubber_mm))
        place = row.operator(ids.SHOW_PLACE, text="", icon="ZOOM_IN")
        place.at_mm = found.case_least_rubber_at_mm
        layout.prop(scene.riseline, "updates_live")


class CaseChoicesPanel(FoundPanel, bpy.types.Panel):
    """Every case that would do, the least rubber first"""

    bl_idname = "RISELINE_PT_case_choices"
    bl_label = "Which Case"
    bl_parent_id = CasePanel.bl_idname

    def draw(self, context: bpy.types.Context) -> None:
        found, layout = context.scene.riseline.results, self.layout.column()
        layout.operator(ids.SHOW_ADDON, text="Your Tubes", icon="PREFERENCES").module = PACKAGE
        for choice in found.choices:
            _draw_choice(layout, context, choice)
        picked = context.scene.riseline.case
        if picked.kind != AUTOMATIC or picked.tube:
            automatic = layout.operator(ids.TAKE_CASE, text="Choose for Me", icon="LOOP_BACK")
            automatic.kind, automatic.tube = AUTOMATIC, ""


def _draw_choice(
    layout: bpy.types.UILayout, context: bpy.types.Context, choice: bpy.types.PropertyGroup
) -> None:
    box = layout.box().column(align=True)
    icon = "RADIOBUT_ON" if choice.taken else "RADIOBUT_OFF"
    name = fitted(context, _titled(shown(context.scene, choice, "name"), choice.kind))
    take = box.operator(ids.TAKE_CASE, text=name, icon=icon, depress=bool(choice.taken))
    take.kind, take.tube = choice.kind, choice.name
    cost = f", costs {choice.cost:.2f}" if choice.cost else ""
    box.label(text=f"Rubber {mass_text(choice.mass_g)}{cost}")
    if choice.saved_g >= LEAST_SAVED_G:
        box.label(text=f"Saves {mass_text(choice.saved_g)} against a tube")
    thin, wide = (shown_length(context.scene, one) for one in _measures(choice))
    box.label(text=f"Thinnest {thin}, channel {wide}")


def _titled(name: str, kind: str) -> str:
    """Return a case's name as a label; a tube is called as it is sold."""
    return (
        name.replace(kind, kind.title()).replace(" case ", " ")
        if kind in PRINTED
        else (name[:1].upper() + name[1:])
    )


def _measures(choice: bpy.types.PropertyGroup) -> tuple[float, float]:
    return choice.least_rubber_mm, choice.channel_mm


class CaseHoldPanel(FoundPanel, bpy.types.Panel):
    """What seams, base and piece have to stand while the rubber is liquid"""

    bl_idname = "RISELINE_PT_case_hold"
    bl_label = "Will It Hold"
    bl_parent_id = CasePanel.bl_idname

    def draw(self, context: bpy.types.Context) -> None:
        found, layout = context.scene.riseline.results, self.layout.column()
        if not found.holds:
            fact(layout, "Floor Pressure", f"{found.rubber_forces_floor_pressure_kpa:.2f} kPa")
            fact(layout, "Push on Base", f"{found.rubber_forces_base_push_n:.0f} N")
            fact(layout, "Pull on Each Seam", f"{found.rubber_forces_seam_pull_n:.0f} N")
            fact(layout, "Lift on the Piece", f"{found.rubber_forces_uplift_n:.0f} N")
        for line in found.holds:
            words(layout, context, shown(context.scene, line, "text"), "DOT")
        words(layout, context, CAUTION, "ERROR")


CaseSettingsPanel = settings_panel("case", CasePanel.bl_idname)
