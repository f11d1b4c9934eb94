"""Reads the file that was chosen or dropped, and begins the work on it."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import bpy

from ...bridge.kept import kept
from ...bridge.lengths import mm_per_unit, read_as_on_a_ruler
from ...bridge.scan_object import add_scan
from ...bridge.sculpts import work_on
from ...core.desk.orders import Reading
from .. import ids, polls
from ..long_work import LongWork
from ..view import frame, open_tab

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from ...core.desk.orders import ReadIn
    from ...core.watch import Watch

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
    doing = "Reading the scan"
    filepath: _PATH

    def gather(self, context: bpy.types.Context) -> Callable[[Watch], ReadIn]:
        self._path = bpy.path.abspath(self.filepath)
        return partial(kept.hand.run, None, Reading(self._path))

    def pace_s(self) -> Mapping[str, float]:
        return {STAGE: 1.0}

    def finish(self, context: bpy.types.Context, found: ReadIn) -> set[str]:
        path = Path(self._path)
        units = 1.0 / mm_per_unit(context.scene) if path.suffix.lower() == TOLD_IN_MM else 1.0
        scan = add_scan(context, path.stem, found.mesh, units, found.edges)
        work_on(context.scene, scan)
        read_as_on_a_ruler(context.scene)
        frame(context, [scan])
        open_tab(context)
        self.report({"INFO"}, f"{len(found.mesh.faces)} triangles. Now give one size of the piece")
        return {"FINISHED"}
