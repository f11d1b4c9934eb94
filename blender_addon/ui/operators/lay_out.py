"""The main button."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ...bridge.job import Job
from ...bridge.kept import kept
from ...core.errors import RiselineError
from ...core.units import mass_text, volume_text
from ...core.watch import Watch
from .. import ids, polls
from ..long_work import LongWork
from ..view import frame_layout, redraw

if TYPE_CHECKING:
    from ...core.desk.laid import Laid

_ONLY = bpy.props.StringProperty(
    name="Only",
    description="Name of the one stage whose changed settings count; empty takes all",
    options={"SKIP_SAVE"},
)
_AFRESH = bpy.props.BoolProperty(
    name="Everything Afresh",
    description="Compute every stage again, also those that nothing was changed for",
    options={"SKIP_SAVE"},
)


class LayOut(LongWork, bpy.types.Operator):
    """Find where air stays, choose the tube, and lay out funnel, cut, rubber and resin"""

    bl_idname = ids.LAY_OUT
    bl_label = "Lay Out Mold"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_lay_out)
    only: _ONLY
    afresh: _AFRESH

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Run straight through."""
        try:
            self._job = self._gathered(context)
            return self.finish(context, self._job.run(Watch()))
        except RiselineError as error:
            return self.give_up(error)

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Run beside the window."""
        if bpy.app.background:
            return self.execute(context)
        try:
            self._job = self._gathered(context)
        except RiselineError as error:
            return self.give_up(error)
        return self.begin(context, self._job.run, kept.pace_s, "Laying out the mold")

    def finish(self, context: bpy.types.Context, laid: Laid) -> set[str]:
        before, layout = context.scene.riseline.results.source, laid.layout
        scene = self._job.bring_back(laid)
        kept.trouble = ""
        if scene.riseline.results.source != before:
            frame_layout(context, scene, layout)  # else the maker looks on at the same place
        redraw(context)
        trapped, mass = volume_text(layout.bubbles.trapped_ml), mass_text(layout.rubber.mass_g)
        self.report({"INFO"}, f"Trapped air {trapped}, rubber to weigh {mass}")
        return {"FINISHED"}

    def show_ahead(self, context: bpy.types.Context, *results: Any) -> None:
        self._job.show_ahead(*results)
        redraw(context)

    def take_back(self) -> None:
        self._job.take_back()

    def _gathered(self, context: bpy.types.Context) -> Job:
        if self.afresh:
            kept.start_afresh()
        return Job(context, polls.chosen_scan(context), self.only)
