"""The first panel: the piece and its size, the one button that comes next, and the main numbers."""

from __future__ import annotations

import bpy

from ...bridge.as_scanned import as_scanned
from ...bridge.kept import kept
from ...bridge.outdated import outdated_stages
from ...bridge.sculpts import piece_of, pieces
from ...bridge.worded import refused_at, said_in
from ...core.case.case import ROUND
from ...core.units import time_text
from .. import ids, polls
from ..headlines import headlines, named
from ..next_step import next_step
from ..tour import STOPS
from .drawing import SidebarPanel, fact, fitted, words
from .size import draw_size, measure

WELCOME = (
    "From a scan of the clay to a poured rubber mold: where air stays, the case, the funnel, the "
    "cut, rubber and resin."
)

LARGER = 1.4
"""Height of the row of the number that costs most when it is wrong, in those of the others."""

PICK_BASE = "Select some faces that it stands on (drag a box over them), then:"


class MoldPanel(SidebarPanel, bpy.types.Panel):
    """Everything a maker needs who changes no settings"""

    bl_idname = "RISELINE_PT_mold"
    bl_label = "Mold"
    bl_options = set()

    def draw_header_preset(self, context: bpy.types.Context) -> None:
        """Draw the way to the first page."""
        self.layout.operator(ids.OPEN_HELP, text="", icon="QUESTION", emboss=False).page = "index"
        self.layout.separator()

    def draw(self, context: bpy.types.Context) -> None:
        layout, work, scan = self.layout, kept.work, polls.chosen_scan(context)
        column = layout.column()
        column.active = work is None
        known = piece_of(context.scene) is not None or context.scene.riseline.results.token
        if scan is None or not known:
            _draw_welcome(column, context, scan)
            _draw_step(layout, context, sized=True)
        else:
            sized = _draw_piece(column, context, scan)
            _draw_step(layout, context, sized=sized)
        if work is not None:
            _draw_work(layout)
        elif kept.trouble:
            box = layout.box()
            box.alert = True
            words(box, context, said_in(context.scene, kept.trouble), "ERROR")
            if refused_at(kept.trouble)[0] == "case.kind":
                take = layout.operator(ids.TAKE_CASE, text="Print a Round Case Instead")
                take.kind = ROUND
        if context.scene.riseline.results.token:
            _draw_findings(layout, context)


def _draw_welcome(
    column: bpy.types.UILayout, context: bpy.types.Context, selected: bpy.types.Object | None
) -> None:
    """Draw the card of the first run."""
    box = column.box().column()
    words(box, context, WELCOME)
    text = "Drop a scan on the view and choose Import Scan, or press it below."
    words(box, context, text, "IMPORT")
    box.separator()
    if selected is not None:
        text = fitted(context, f"Use {selected.name} Instead")
        box.operator(ids.WORK_ON, text=text, icon="MESH_DATA").name = selected.name
    if pieces(context.scene):
        box.menu(ids.PIECES, text="Go On with a Piece", icon="MESH_DATA")
    box.operator_menu_enum(
        ids.OPEN_SAMPLE, "sample", text="Try a Sample Piece", icon="OUTLINER_OB_MESH"
    )
    box.operator(ids.OPEN_HELP, text="How It Goes", icon="HELP").page = "index"


def _draw_piece(
    column: bpy.types.UILayout, context: bpy.types.Context, scan: bpy.types.Object
) -> bool:
    """Draw whose size and axis are asked for; tell whether the size can be molded."""
    scene = context.scene
    row, shown = column.row(align=True), piece_of(scene) or scan
    if len(pieces(scene)) > 1:
        row.menu(ids.PIECES, text=fitted(context, shown.name, beside=2), icon="MESH_DATA")
    else:
        row.label(text=fitted(context, shown.name, beside=1), icon="MESH_DATA")
    row.operator(ids.IMPORT_SCAN, text="", icon="IMPORT")
    if piece_of(scene) not in {None, scan}:
        return True  # what is set below belongs to another piece until this one is worked on
    stored = scene.riseline
    column.row(align=True).prop(stored, "measured", expand=True)
    size = measure(context, scan)
    _draw_measured(column, scene)
    column.prop(stored.scan, "up")
    if context.mode == "EDIT_MESH" and polls.is_scan(context.edit_object):
        words(column, context, PICK_BASE, "INFO")
        column.operator(ids.STAND_ON_FACES, icon="TRIA_DOWN_BAR")
    sized = draw_size(column, context, scan, size)
    column.operator_menu_enum(ids.USE_PRESET, "preset", text="Preset by Size of Piece")
    return sized


def _draw_measured(column: bpy.types.UILayout, scene: bpy.types.Scene) -> None:
    """Draw the field of the size that was measured, and the way to a unit that is on a ruler."""
    name, scan = scene.riseline.measured, scene.riseline.scan
    as_it_is = not getattr(scan, f"{name}_mm") and as_scanned.length_mm(scene, f"{name}_mm")
    column.prop(scan, name, text=f"{name.title()} as Scanned" if as_it_is else name.title())
    units = scene.unit_settings
    if units.system == "IMPERIAL" and units.length_unit != "INCHES":
        column.operator(ids.SHOW_INCHES, icon="DRIVER_DISTANCE")
    elif units.system != "IMPERIAL" and units.length_unit != "MILLIMETERS":
        column.operator(ids.SHOW_MILLIMETERS, icon="DRIVER_DISTANCE")


def _draw_step(layout: bpy.types.UILayout, context: bpy.types.Context, *, sized: bool) -> None:
    """Draw the one obvious button, and the way back on a tour."""
    step, stored = next_step(context), context.scene.riseline
    row = layout.row(align=True)
    row.scale_y = 1.8
    on_tour = step.operator == ids.NEXT_STOP or (stored.results.token and stored.tour >= len(STOPS))
    if on_tour and stored.tour > 1:
        row.operator(ids.NEXT_STOP, text="", icon="BACK").back = True
    text = fitted(context, step.text)
    if step.operator == ids.LAY_OUT and not sized:
        row.enabled, text = False, f"Type the {stored.measured.title()} First"
    button = row.operator(step.operator, text=text, icon=step.icon)
    for name, value in step.told.items():
        setattr(button, name, value)


def _draw_work(layout: bpy.types.UILayout) -> None:
    work = kept.work
    left = f", {time_text(work.left_s)} left" if work.left_s is not None else ""
    word = work.waits_for or f"{work.stage}{left}    Esc to cancel"
    word = "Stopping" if work.stopping else word
    layout.progress(factor=work.total, text=word)


def _draw_findings(layout: bpy.types.UILayout, context: bpy.types.Context) -> None:
    found = context.scene.riseline.results
    if stages := outdated_stages(context.scene):
        names = ", ".join(stage.title() for stage in stages)
        words(layout, context, f"Changed since: {names}.", "FILE_REFRESH")
    elif kept.layout(found.token) is None:
        text = "These numbers are from the file. To export, lay out again: it takes a whole run."
        words(layout, context, text, "INFO")
    elif found.parts_at:
        text = f"Parts, job sheet and templates are in {found.parts_at}"
        words(layout, context, text, "CHECKMARK")
    box = layout.box().column()
    box.scale_y = 1.2
    if name := named(context.scene):
        box.label(text=fitted(context, name), icon="MESH_DATA")
    *others, heaviest = headlines(context.scene)
    first = box.row()  # with a large interface the rest may lie below the window's edge
    first.scale_y = LARGER
    fact(first, *heaviest)
    for label, value in others:
        fact(box, label, value)
    if stages := dict.fromkeys(warning.stage.title() for warning in found.warnings):
        words(layout, context, f"Warnings below, in {', '.join(stages)}.", "ERROR")
    row = layout.row(align=True)
    again = row.operator(ids.LAY_OUT, text="Run All Again", icon="FILE_REFRESH")
    again.afresh = again.at_work = True
    row.operator(ids.RESET_STAGE, text="Reset All", icon="LOOP_BACK").stage = ""
