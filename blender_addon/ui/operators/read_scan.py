"""Reads the file that was chosen or dropped, and begins the work on it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import bpy

from ...bridge.kept import kept
from ...bridge.lengths import mm_per_unit
from ...bridge.scan_object import add_scan
from ...bridge.sculpts import work_on
from ...core.desk.orders import Reading
from ...core.errors import RiselineError
from ...core.watch import Watch
from .. import ids, polls
from ..long_work import LongWork
from ..view import frame, open_tab

if TYPE_CHECKING:
    from ...core.geometry.mesh import Mesh

TOLD_IN_MM = ".3mf"
"""The one format that tells its unit; of the others Blender takes a number as a scene unit."""

STAGE = "Read"

_PATH = bpy.props.StringProperty(subtype="FILE_PATH", options={"SKIP_SAVE"})


class ReadScan(LongWork, bpy.types.Operator):
    """Read the scan of a piece from a file"""

    bl_idname = ids.READ_SCAN
    bl_label = "Import Scan"
    bl_options = {"UNDO", "INTERNAL"}
    poll = classmethod(polls.is_free)
    filepath: _PATH

    def execute(self, context: bpy.types.Context) -> set[str]:
        self._path = bpy.path.abspath(self.filepath)
        try:
            return self.finish(context, self._read(Watch()))
        except RiselineError as error:
            return self.give_up(error)

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        if bpy.app.background:
            return self.execute(context)
        self._path = bpy.path.abspath(self.filepath)
        return self.begin(context, self._read, {STAGE: 1.0}, "Reading the scan")

    def _read(self, watch: Watch) -> Mesh:
        mesh: Mesh = kept.hand.run(None, Reading(self._path), watch)
        return mesh

    def finish(self, context: bpy.types.Context, mesh: Mesh) -> set[str]:
        path = Path(self._path)
        units = 1.0 / mm_per_unit(context.scene) if path.suffix.lower() == TOLD_IN_MM else 1.0
        scan = add_scan(context, path.stem, mesh, units)
        work_on(context.scene, scan)
        frame(context, [scan])
        open_tab(context)
        self.report({"INFO"}, f"{len(mesh.faces)} triangles. Now give one size of the piece")
        return {"FINISHED"}
