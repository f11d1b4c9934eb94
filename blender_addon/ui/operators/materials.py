"""Materials of the common classes and of the user's own list: pick, keep, forget, hand on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
from bpy_extras.io_utils import ExportHelper, ImportHelper

from ...bridge import bench
from ...core.errors import RiselineError
from .. import ids, polls

if TYPE_CHECKING:
    from collections.abc import Callable

_FILTER = bpy.props.StringProperty(default="*.toml", options={"HIDDEN"})
_KIND = bpy.props.StringProperty(options={"HIDDEN", "SKIP_SAVE"})
_NAME = bpy.props.StringProperty(
    name="Name", description="What stands on the can, or what you call it", options={"SKIP_SAVE"}
)

_shown: dict[str, list[tuple[str, str, str]]] = {}
"""Blender keeps no texts of a list that is made anew: they must stay somewhere."""


def _choices(kind: str) -> list[tuple[str, str, str]]:
    try:
        listed = bench.materials_of(kind)
    except RiselineError:  # told where the list is kept: the common ones can still be had
        listed = bench.READERS[kind]()
    _shown[kind] = [(one.material, one.material, one.source) for one in listed]
    return _shown[kind]


def _picked(kind: str) -> Any:
    def items(_self: object, _context: bpy.types.Context) -> list[tuple[str, str, str]]:
        return _choices(kind)

    return bpy.props.EnumProperty(
        name=kind.title(), description="Of the common classes, or of your own list", items=items
    )


_RUBBERS, _RESINS = _picked("rubber"), _picked("resin")


def _tried(operator: bpy.types.Operator, act: Callable[[], str]) -> set[str]:
    """Do it and say what was done, or report why it cannot be done."""
    try:
        operator.report({"INFO"}, act())
    except RiselineError as error:
        operator.report({"ERROR"}, str(error))
        return {"CANCELLED"}
    return {"FINISHED"}


class PickRubber(bpy.types.Operator):
    """Fill in what is known of a rubber; its data sheet goes before typical values"""

    bl_idname = ids.PICK_RUBBER
    bl_label = "Pick Rubber"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    material: _RUBBERS

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _tried(self, lambda: _pick(context, "rubber", self.material))


class PickResin(bpy.types.Operator):
    """Fill in what is known of a resin; its data sheet goes before typical values"""

    bl_idname = ids.PICK_RESIN
    bl_label = "Pick Resin"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    material: _RESINS

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _tried(self, lambda: _pick(context, "resin", self.material))


def _pick(context: bpy.types.Context, kind: str, name: str) -> str:
    bench.fill_in(context.scene, kind, name)
    return f"Values of {name} are filled in"


class KeepMaterial(bpy.types.Operator):
    """Keep these values as a material of your own, for every file and after a restart"""

    bl_idname = ids.KEEP_MATERIAL
    bl_label = "Keep Material"
    bl_options = {"INTERNAL"}
    kind: _KIND
    name: _NAME

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        current = getattr(context.scene.riseline, self.kind).material
        common = {one.material for one in bench.READERS[self.kind]()}
        self.name = "" if current in common else current
        return context.window_manager.invoke_props_dialog(self)

    def execute(self, context: bpy.types.Context) -> set[str]:
        def keep() -> str:
            bench.keep_material(context.scene, self.kind, self.name)
            return f"{self.name} is on your list"

        return _tried(self, keep)


class ForgetMaterial(bpy.types.Operator):
    """Take this material off your list; the values here stay"""

    bl_idname = ids.FORGET_MATERIAL
    bl_label = "Remove Material"
    bl_options = {"INTERNAL"}
    kind: _KIND
    name: _NAME

    def execute(self, context: bpy.types.Context) -> set[str]:
        def forget() -> str:
            bench.forget_material(self.kind, self.name)
            return f"{self.name} is off your list"

        return _tried(self, forget)


class ImportMaterials(bpy.types.Operator, ImportHelper):
    """Add the rubbers and resins of a list to yours"""

    bl_idname = ids.IMPORT_MATERIALS
    bl_label = "Import Materials"
    bl_options = {"INTERNAL"}
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _tried(self, lambda: f"{bench.take_in(self.filepath)} materials were added")


class ExportMaterials(bpy.types.Operator, ExportHelper):
    """Write your rubbers and resins into a list for another workshop"""

    bl_idname = ids.EXPORT_MATERIALS
    bl_label = "Export Materials"
    bl_options = {"INTERNAL"}
    filename_ext = ".toml"
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _tried(
            self, lambda: f"{bench.hand_out(self.filepath)} materials are in {self.filepath}"
        )
