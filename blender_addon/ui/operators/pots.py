"""The list of the user's pressure pots and vacuum chambers."""

from __future__ import annotations

import bpy

from ...bridge import bench
from ...bridge.lengths import mm_per_unit
from ...bridge.properties import as_typed
from ...bridge.worded import said_in
from ...core.catalog.pots import PRESSURE, VACUUM, Pot
from ...core.errors import RiselineError
from .. import ids

_KINDS = [
    (PRESSURE, "Pressure", "A pot made and rated for pressure"),
    (VACUUM, "Vacuum", "A chamber made and rated for vacuum"),
]
_NAME = bpy.props.StringProperty(name="Name", description="What you call it")
_KIND = bpy.props.EnumProperty(
    name="Made For", description="A vessel is rated for the one or the other", items=_KINDS
)
_ACROSS = bpy.props.FloatProperty(
    name="Inside Diameter",
    description="The narrowest clear width, past lid clamps and fittings",
    subtype="DISTANCE",
    unit="LENGTH",
    min=0.0,
)
_DEEP = bpy.props.FloatProperty(
    name="Depth",
    description="Clear height from where things stand to the lid",
    subtype="DISTANCE",
    unit="LENGTH",
    min=0.0,
)
_RATED = bpy.props.FloatProperty(
    name="Rated Limit (kPa)",
    description="From its plate, over or under the air outside; 100 kPa is 14.5 psi or 29.5 inHg",
    min=0.0,
    precision=1,
)


class AddPot(bpy.types.Operator):
    """Add a pressure pot or a vacuum chamber to your list, as its plate says"""

    bl_idname = ids.ADD_POT
    bl_label = "Add Pot"
    bl_options = {"INTERNAL"}
    name: _NAME
    kind: _KIND
    across: _ACROSS
    deep: _DEEP
    rated_kpa: _RATED

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        return context.window_manager.invoke_props_dialog(self)

    def execute(self, context: bpy.types.Context) -> set[str]:
        mm = mm_per_unit(context.scene)
        sizes = as_typed(self.across * mm), as_typed(self.deep * mm), as_typed(self.rated_kpa)
        try:
            bench.keep_pot(Pot(self.name.strip(), self.kind, *sizes))
            bench.fit_again(context.scene)
        except RiselineError as error:
            self.report({"ERROR"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        return {"FINISHED"}


class RemovePot(bpy.types.Operator):
    """Take this pot off your list"""

    bl_idname = ids.REMOVE_POT
    bl_label = "Remove Pot"
    bl_options = {"INTERNAL"}
    name: _NAME

    def execute(self, context: bpy.types.Context) -> set[str]:
        try:
            bench.forget_pot(self.name)
            bench.fit_again(context.scene)
        except RiselineError as error:
            self.report({"ERROR"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        return {"FINISHED"}
