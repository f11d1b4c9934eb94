"""Paper for the bench, and the way to it."""

from __future__ import annotations

import bpy

from .. import ids
from .drawing import StagePanel, draw_settings, words

SCENE_DECIDES = frozenset({"units"})
"""Sheets are in inches where the scene is set to imperial units."""


class SheetPanel(StagePanel, bpy.types.Panel):
    """The job sheet, and templates at true size"""

    bl_idname = "RISELINE_PT_sheet"
    bl_label = "Sheet"

    def draw(self, context: bpy.types.Context) -> None:
        row = self.layout.row()
        row.scale_y = 1.4
        row.operator(ids.WRITE_SHEETS, icon="FILE_TEXT")
        draw_settings(self.layout, context, "sheet", SCENE_DECIDES)
        StagePanel.draw(self, context)
        self.layout.operator(ids.WRITE_COMMAND_FILES, icon="CONSOLE")

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        if found.sheets_at:
            words(layout, context, f"Written to {found.sheets_at}", "CHECKMARK")
            layout.operator(ids.OPEN_PATH, text="Open Folder").filepath = found.sheets_at
        layout.label(text=f"Templates, {len(found.templates)}:")
        column = layout.column(align=True)
        column.scale_y = 0.85
        for template in found.templates:
            column.label(text=template.title, icon="DOT")
