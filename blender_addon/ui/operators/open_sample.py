"""A piece to try things on, for who has no scan at hand."""

from __future__ import annotations

import bpy

from ...bridge.lengths import mm_per_unit, read_as_on_a_ruler
from ...bridge.samples import SAMPLES, sample_file
from ...bridge.scan_object import add_scan
from ...bridge.sculpts import work_on
from ...bridge.settings_in import write_settings
from ...core.errors import RiselineError
from ...core.files.read import read
from ...core.settings import load
from .. import ids, polls
from ..view import frame, open_tab

_SAMPLE = bpy.props.EnumProperty(
    name="Sample",
    description="Which piece to try things on",
    items=[(one, label, tip) for one, (label, tip) in SAMPLES.items()],
)


class OpenSample(bpy.types.Operator):
    """Put a sample piece into this scene, with settings that suit it"""

    bl_idname = ids.OPEN_SAMPLE
    bl_label = "Open Sample Piece"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.is_free)
    sample: _SAMPLE

    def execute(self, context: bpy.types.Context) -> set[str]:
        scene, file = context.scene, sample_file(self.sample)
        try:
            mesh, settings = read(file), load(file.with_suffix(".toml"))
        except RiselineError as error:
            self.report({"ERROR"}, str(error))
            return {"CANCELLED"}
        label = SAMPLES[self.sample][0]
        scan = add_scan(context, label, mesh, 1.0 / mm_per_unit(scene))
        work_on(scene, scan)
        read_as_on_a_ruler(scene)
        write_settings(scene, settings)
        frame(context, [scan])
        open_tab(context)
        self.report({"INFO"}, f"{label}: press Lay Out Mold")
        return {"FINISHED"}
