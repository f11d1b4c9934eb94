"""What the scan is, and what was mended."""

from __future__ import annotations

import bpy

from ...bridge.lengths import shown_area, shown_size
from ...bridge.outdated import OF_THE_PIECE
from ...core.units import volume_text
from .drawing import StagePanel, fact, settings_panel, words


class ScanPanel(StagePanel, bpy.types.Panel):
    """The scan, sized, upright and closed"""

    bl_idname = "RISELINE_PT_scan"
    bl_label = "Scan"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        size = shown_size(context.scene, found.scan_size_mm)
        layout.label(text=size, icon="EMPTY_ARROWS")
        fact(layout, "Volume", volume_text(found.scan_volume_ml))
        fact(layout, "Surface", shown_area(context.scene, found.scan_area_cm2, ".0f"))
        fact(layout, "Up", found.scan_up.upper())
        fact(layout, "Triangles", f"{found.scan_triangles:,}")
        fact(layout, "Open Edges", str(found.scan_open_edges))
        fact(layout, "Pieces", str(found.scan_pieces))
        fact(layout, "Through Holes", str(found.scan_through_holes))
        for change in found.changes:
            words(layout, context, change.text[:1].upper() + change.text[1:], "MODIFIER")


ScanSettingsPanel = settings_panel("scan", ScanPanel.bl_idname, left_out=frozenset(OF_THE_PIECE))
