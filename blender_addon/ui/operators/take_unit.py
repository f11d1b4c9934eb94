"""What a scan's numbers are: one click in the place of a ruler, where its file is trusted."""

from __future__ import annotations

import bpy

from ...bridge.lengths import mm_per_unit
from ...core.constants.common import UNITS_MM
from .. import ids, polls

UNSAID = "unsaid"

_UNIT = bpy.props.EnumProperty(
    name="Unit",
    description="What the numbers of the scan are",
    items=[
        *((one, one.title(), f"The scan's numbers are {one}") for one in UNITS_MM),
        (UNSAID, "Unsaid", "The scan's numbers are what the scene's are"),
    ],
)


class TakeUnit(bpy.types.Operator):
    """Take the scan's numbers for this unit; the scan itself stays as it is"""

    bl_idname = ids.TAKE_UNIT
    bl_label = "Take Unit"
    bl_options = {"REGISTER", "UNDO", "INTERNAL"}
    poll = classmethod(polls.is_free)
    unit: _UNIT

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Store it, and show lengths as they are read at a bench."""
        scene, units = context.scene, context.scene.unit_settings
        if self.unit == UNSAID:
            scene.riseline.scan.property_unset("scale")
            return {"FINISHED"}
        scene.riseline.scan.scale = UNITS_MM[self.unit] / mm_per_unit(scene)
        if self.unit == "inches":
            units.system, units.length_unit = "IMPERIAL", "INCHES"
        elif units.system == "METRIC" and units.length_unit == "METERS":
            units.length_unit = "MILLIMETERS"
        return {"FINISHED"}
