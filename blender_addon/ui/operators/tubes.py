"""The list of the user's own tubes: add, remove, and from or to a table."""

from __future__ import annotations

from pathlib import Path

import bpy
from bpy_extras.io_utils import ExportHelper, ImportHelper

from ...bridge import shelf
from ...bridge.worded import said_in
from ...core.catalog.tube_csv import read_tube_csv, tube_csv_text
from ...core.errors import RiselineError
from ...core.files.whole import write_whole
from .. import ids, polls

_FILTER = bpy.props.StringProperty(default="*.csv", options={"HIDDEN"})


class AddTube(bpy.types.Operator):
    """Add a tube to your list"""

    bl_idname = ids.ADD_TUBE
    bl_label = "Add Tube"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.has_preferences)

    def execute(self, context: bpy.types.Context) -> set[str]:
        own = shelf.own_preferences()
        own.tubes.add()
        own.tube = len(own.tubes) - 1
        return {"FINISHED"}


class RemoveTube(bpy.types.Operator):
    """Take the chosen tube off your list"""

    bl_idname = ids.REMOVE_TUBE
    bl_label = "Remove Tube"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.has_tube)

    def execute(self, context: bpy.types.Context) -> set[str]:
        own = shelf.own_preferences()
        own.tubes.remove(own.tube)
        own.tube = max(0, own.tube - 1)
        shelf.keep_or_tell(own.tubes)
        return {"FINISHED"}


class ImportTubes(bpy.types.Operator, ImportHelper):
    """Read your list of tubes from a table, in place of the one here"""

    bl_idname = ids.IMPORT_TUBES
    bl_label = "Import Tubes"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.has_preferences)
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        own = shelf.own_preferences()
        try:
            shelf.fill(own.tubes, read_tube_csv(Path(self.filepath)))
            shelf.keep(own.tubes)
        except RiselineError as error:
            self.report({"ERROR"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        self.report({"INFO"}, f"{len(own.tubes)} tubes are on your list")
        return {"FINISHED"}


class ExportTubes(bpy.types.Operator, ExportHelper):
    """Write your list of tubes as a table that any spreadsheet opens"""

    bl_idname = ids.EXPORT_TUBES
    bl_label = "Export Tubes"
    bl_options = {"INTERNAL"}
    poll = classmethod(polls.has_tube)
    filename_ext = ".csv"
    filter_glob: _FILTER

    def execute(self, context: bpy.types.Context) -> set[str]:
        tubes = shelf.tubes_in(shelf.own_preferences().tubes)
        try:
            write_whole(self.filepath, tube_csv_text(tubes).encode("utf-8"))
        except RiselineError as error:
            self.report({"ERROR"}, said_in(context.scene, str(error)))
            return {"CANCELLED"}
        self.report({"INFO"}, f"{len(tubes)} tubes are in {self.filepath}")
        return {"FINISHED"}
