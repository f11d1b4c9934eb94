"""The first panel: what goes in, the button, and the numbers that matter most."""

from __future__ import annotations

import bpy

from ...bridge.kept import kept
from ...bridge.lengths import shown_size, size_in_scene_mm
from ...bridge.outdated import outdated_stages
from ...core.constants import TALLEST_MASTER_MM
from .. import ids, polls
from ..headlines import headlines
from .drawing import SidebarPanel, fact, words


class MoldPanel(SidebarPanel, bpy.types.Panel):
    """Everything a maker needs who changes no settings"""

    bl_idname = "RISELINE_PT_mold"
    bl_label = "Mold"
    bl_options = set()

    def draw(self, context: bpy.types.Context) -> None:
        layout, work = self.layout, kept.work
        _draw_scan(layout.column(), context)
        row = layout.row()
        row.scale_y = 1.8
        row.operator(ids.LAY_OUT, icon="MOD_FLUIDSIM")
        if work is not None:
            word = "Stopping" if work.stopping else f"{work.stage}    Esc to cancel"
            layout.progress(factor=work.total, text=word)
        elif kept.trouble:
            box = layout.box()
            box.alert = True
            words(box, context, kept.trouble, "ERROR")
        if context.scene.riseline.results.token:
            _draw_findings(layout, context)


def _draw_scan(column: bpy.types.UILayout, context: bpy.types.Context) -> None:
    scene, scan = context.scene, polls.chosen_scan(context)
    column.active = kept.work is None
    column.operator(ids.IMPORT_SCAN, icon="IMPORT")
    if scan is None:
        words(column, context, "Or select the scan of the piece in the view.", "INFO")
        return
    column.label(text=scan.name, icon="MESH_DATA")
    size_mm = size_in_scene_mm(scene, scan)
    column.label(text=shown_size(scene, size_mm), icon="EMPTY_ARROWS")
    if max(size_mm) > TALLEST_MASTER_MM and not scene.riseline.scan.height_mm:
        text = "Too large for a mold: measure the clay and give its true height below."
        words(column, context, text, "ERROR")
    column.use_property_split = True
    column.use_property_decorate = False
    column.prop(scene.riseline.scan, "height")
    column.prop(scene.riseline.scan, "up")
    units = scene.unit_settings
    if units.system == "METRIC" and units.length_unit != "MILLIMETERS":
        column.operator(ids.SHOW_MILLIMETERS, icon="DRIVER_DISTANCE")


def _draw_findings(layout: bpy.types.UILayout, context: bpy.types.Context) -> None:
    found = context.scene.riseline.results
    if stages := outdated_stages(context.scene):
        names = ", ".join(stage.title() for stage in stages)
        words(layout, context, f"Changed since: {names}. Lay out again.", "FILE_REFRESH")
    box = layout.box().column()
    box.scale_y = 1.2
    for label, value in headlines(context.scene):
        fact(box, label, value)
    row = layout.row()
    row.scale_y = 1.4
    row.operator(ids.EXPORT_PARTS, icon="EXPORT")
    layout.prop(context.scene.riseline, "shows_numbers")
    if stages := dict.fromkeys(warning.stage.title() for warning in found.warnings):
        words(layout, context, f"Warnings below, in {', '.join(stages)}.", "ERROR")
