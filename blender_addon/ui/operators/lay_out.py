"""The main button."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ...bridge.job import Job
from ...bridge.kept import kept
from ...bridge.names import MASTER_ROLE, OWN
from ...bridge.show import own_objects
from ...bridge.turned_eye import turn_between
from ...core.units import mass_text, volume_text
from .. import ids, polls
from ..long_work import LongWork
from ..view import frame_layout, redraw, turn_with

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from ...core.desk.laid import Laid
    from ...core.watch import Watch

LEAST_TURN = 1e-4
"""Radians that nobody sees: then the views stay to the last digit."""

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
_AT_WORK = bpy.props.BoolProperty(
    name="Piece at Work",
    description="Lay out the piece at work again, whatever else is selected",
    options={"SKIP_SAVE"},
)


class LayOut(LongWork, bpy.types.Operator):
    """Find where air stays, choose the tube, and lay out funnel, cut, rubber and resin"""

    bl_idname = ids.LAY_OUT
    bl_label = "Lay Out Mold"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_lay_out)
    doing = "Laying out the mold"
    only: _ONLY
    afresh: _AFRESH
    at_work: _AT_WORK

    def gather(self, context: bpy.types.Context) -> Callable[[Watch], Laid]:
        if self.afresh:
            kept.start_afresh()
        scan = polls.scan_at_work(context) if self.at_work else polls.chosen_scan(context)
        self._job = Job(context, scan, self.only)
        return self._job.run

    def pace_s(self) -> Mapping[str, float]:
        return kept.pace_s

    def finish(self, context: bpy.types.Context, laid: Laid) -> set[str]:
        found, layout = context.scene.riseline.results, laid.layout
        before, last = found.source, kept.layout(found.token)
        scene = self._job.bring_back(laid)
        kept.trouble = ""
        if scene.riseline.results.source != before:
            frame_layout(context, scene, layout)
        elif last is not None:  # the maker looks on at the same place, from the same side
            _go_round(context, scene, turn_between(last.case.placement, layout.case.placement))
        redraw(context)
        trapped, mass = volume_text(layout.bubbles.trapped_ml), mass_text(layout.rubber.mass_g)
        self.report({"INFO"}, f"Trapped air {trapped}, rubber to weigh {mass}")
        return {"FINISHED"}

    @property
    def is_ahead(self) -> bool:
        return self._job.is_ahead

    def show_ahead(self, context: bpy.types.Context, *results: Any) -> None:
        self._job.show_ahead(*results)
        redraw(context)

    def take_back(self) -> None:
        self._job.take_back()


def _go_round(context: bpy.types.Context, scene: bpy.types.Scene, angle: float) -> None:
    """Keep the piece in view from where it was seen, if it was turned."""
    master = [one for one in own_objects(scene) if one[OWN] == MASTER_ROLE]
    if abs(angle) > LEAST_TURN and master:
        turn_with(context, master, angle)
