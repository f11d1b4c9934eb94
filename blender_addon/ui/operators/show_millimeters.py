"""A scene that shows metres or feet is hard to read at the bench."""

from __future__ import annotations

import bpy

from .. import ids


class ShowMillimeters(bpy.types.Operator):
    """Show the lengths of this scene in millimeters; no size changes"""

    bl_idname = ids.SHOW_MILLIMETERS
    bl_label = "Show Millimeters"
    bl_options = {"REGISTER", "UNDO"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        context.scene.unit_settings.system = "METRIC"
        context.scene.unit_settings.length_unit = "MILLIMETERS"
        return {"FINISHED"}


class ShowInches(bpy.types.Operator):
    """Show the lengths of this scene in inches; no size changes"""

    bl_idname = ids.SHOW_INCHES
    bl_label = "Show Inches"
    bl_options = {"REGISTER", "UNDO"}

    def execute(self, context: bpy.types.Context) -> set[str]:
        context.scene.unit_settings.system = "IMPERIAL"
        context.scene.unit_settings.length_unit = "INCHES"
        return {"FINISHED"}
