"""What of the layout is seen, one switch each."""

from __future__ import annotations

import bpy

from ...bridge.views import SWITCHES
from .. import ids
from .drawing import FoundPanel


class ViewsPanel(FoundPanel, bpy.types.Panel):
    """Switches of what is seen"""

    bl_idname = "RISELINE_PT_views"
    bl_label = "Views"

    def draw_header_preset(self, context: bpy.types.Context) -> None:
        """Draw the way to its page."""
        self.layout.operator(ids.OPEN_HELP, text="", icon="QUESTION", emboss=False).page = "views"
        self.layout.separator()

    def draw(self, context: bpy.types.Context) -> None:
        layout, stored = self.layout, context.scene.riseline
        grid = layout.grid_flow(row_major=True, columns=2, even_columns=True, align=True)
        for key in SWITCHES:
            grid.prop(stored, f"show_{key}", toggle=True)
        layout.operator(ids.LOOK_FROM_BELOW, icon="TRIA_UP")
        layout.prop(stored, "rubber_level", slider=True)
        layout.prop(stored, "shows_numbers")
