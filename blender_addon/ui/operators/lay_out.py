"""The main button."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ...bridge.background import Work
from ...bridge.job import Job
from ...bridge.kept import kept
from ...bridge.properties import STAGE_LABELS
from ...core.errors import CancelledError, RiselineError
from ...core.units import mass_text, volume_text
from ...core.watch import Watch
from .. import ids, polls
from ..view import frame_layout, redraw

if TYPE_CHECKING:
    from collections.abc import Callable

    from ...core.layout import Layout

SECONDS_BETWEEN_LOOKS = 0.1

_ONLY = bpy.props.StringProperty(
    name="Only",
    description="Name of the one stage whose changed settings count; empty takes all",
    options={"SKIP_SAVE"},
)


class LayOut(bpy.types.Operator):
    """Find where air stays, choose the tube, and lay out funnel, cut, rubber and resin"""

    bl_idname = ids.LAY_OUT
    bl_label = "Lay Out Mold"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_lay_out)
    only: _ONLY

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Run straight through."""
        try:
            job = Job(context, polls.chosen_scan(context), self.only)
            return self._finish(context, job, job.run(Watch()))
        except RiselineError as error:
            return self._give_up(error)

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Run beside the window."""
        if bpy.app.background:
            return self.execute(context)
        try:
            self._job = Job(context, polls.chosen_scan(context), self.only)
        except RiselineError as error:
            return self._give_up(error)
        kept.trouble = ""
        kept.work = self._work = Work(self._job.run, STAGE_LABELS)
        kept.clear_away = _tell_and_wake(context)
        context.window_manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Look whether the work is over; let everything but Esc through to Blender."""
        if event.type == "ESC" and event.value == "PRESS":
            self._work.cancel()
            return {"RUNNING_MODAL"}
        if kept.work is not self._work:
            return {"CANCELLED"}
        if event.type != "TIMER":
            return {"PASS_THROUGH"}
        redraw(context)
        if not self._work.poll():
            return {"PASS_THROUGH"}
        self.cancel(context)
        try:
            return self._finish(context, self._job, self._work.result())
        except RiselineError as error:
            return self._give_up(error)

    def cancel(self, context: bpy.types.Context) -> None:
        """Leave the window as it was; Blender calls this too, when it closes or loads a file."""
        if kept.work is self._work:
            kept.end_work()

    def _finish(self, context: bpy.types.Context, job: Job, layout: Layout) -> set[str]:
        scene = job.bring_back(layout)
        kept.trouble = ""
        frame_layout(context, scene, layout)
        redraw(context)
        trapped, mass = volume_text(layout.bubbles.trapped_ml), mass_text(layout.rubber.mass_g)
        self.report({"INFO"}, f"Trapped air {trapped}, rubber to weigh {mass}")
        return {"FINISHED"}

    def _give_up(self, error: RiselineError) -> set[str]:
        stopped = isinstance(error, CancelledError)
        kept.trouble = "" if stopped else str(error)
        self.report({"INFO" if stopped else "ERROR"}, str(error))
        return {"CANCELLED"}


def _tell_and_wake(context: bpy.types.Context) -> Callable[[], None]:
    """Write into the status bar and start a timer; return how to end both."""
    manager, workspace = context.window_manager, context.workspace
    timer = manager.event_timer_add(SECONDS_BETWEEN_LOOKS, window=context.window)
    workspace.status_text_set("Laying out the mold    Esc to cancel")

    def clear_away() -> None:
        manager.event_timer_remove(timer)
        workspace.status_text_set(None)

    return clear_away
