"""What operators have in common whose work runs in a thread, beside the window."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any, ClassVar

import bpy

from ..bridge.background import Work
from ..bridge.kept import kept
from ..bridge.lengths import in_inches
from ..bridge.worded import worded
from ..core.errors import CancelledError, RiselineError
from ..core.watch import Watch
from .view import redraw

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

SECONDS_BETWEEN_LOOKS = 0.02
"""Work of half a second should not wait long for being seen to be over."""

SECONDS_BETWEEN_DRAWS = 0.5
"""Of the sidebar, which tells how far the work is: at 0.1 s the work takes twice as long."""


class LongWork:
    """A mix-in: `gather` in the window, work beside it, `finish` in the window with the result.

    ``doing`` is for the status bar.
    """

    doing: ClassVar[str]

    def execute(self, context: bpy.types.Context) -> set[str]:
        """Work straight through."""
        try:
            return self.finish(context, self.gather(context)(Watch()))
        except RiselineError as error:
            return self.give_up(error)

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Work beside the window, if there is one."""
        if bpy.app.background:
            return self.execute(context)
        try:
            task = self.gather(context)
        except RiselineError as error:
            return self.give_up(error)
        return self._begin(context, task)

    def gather(self, context: bpy.types.Context) -> Callable[[Watch], Any]:
        """Return the work: it gets the watch, and touches nothing of Blender.

        Raises
        ------
        RiselineError
            If there is nothing to work on.
        """
        raise NotImplementedError

    def pace_s(self) -> Mapping[str, float]:
        """Return the stages that the work will report, and how long each commonly takes."""
        raise NotImplementedError

    def _begin(self, context: bpy.types.Context, task: Callable[[Watch], Any]) -> set[str]:
        """Start the work and wait for it."""
        kept.trouble = ""
        kept.work = self._work = Work(task, self.pace_s())
        kept.clear_away = _tell_and_wake(context, self.doing)
        self._draw_at_s = time.monotonic() + SECONDS_BETWEEN_DRAWS
        context.window_manager.modal_handler_add(self)
        redraw(context)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Look whether the work is over; let everything but Esc through to Blender."""
        if event.type == "ESC" and event.value == "PRESS":
            self._work.cancel()
            redraw(context)
            return {"RUNNING_MODAL"}
        if kept.work is not self._work:
            return {"CANCELLED"}
        if event.type != "TIMER":
            return {"PASS_THROUGH"}
        over = self._work.poll()
        if not over and (results := self._work.ahead()):
            self.show_ahead(context, *results)
        if not over:
            self._draw(context)
            return {"PASS_THROUGH"}
        self.cancel(context)
        try:
            return self.finish(context, self._work.result())
        except RiselineError as error:
            self.take_back()
            return self.give_up(error)
        except BaseException:  # our own fault: it shows, and the scene is as before all the same
            self.take_back()
            raise

    def _draw(self, context: bpy.types.Context) -> None:
        now_s = time.monotonic()
        if now_s >= self._draw_at_s:
            self._draw_at_s = now_s + SECONDS_BETWEEN_DRAWS
            redraw(context)

    def cancel(self, context: bpy.types.Context) -> None:
        """Leave the window as it was; Blender calls this too, when it closes or loads a file."""
        if kept.work is self._work:
            kept.end_work()

    def show_ahead(self, context: bpy.types.Context, *results: Any) -> None:
        """Show what comes ahead of the result."""

    def take_back(self) -> None:
        """Take back what was shown ahead: there will be no result."""

    def finish(self, context: bpy.types.Context, result: Any) -> set[str]:
        """Bring the result into the scene."""
        raise NotImplementedError

    def give_up(self, error: RiselineError) -> set[str]:
        """Say what was wrong; nothing was changed."""
        stopped = isinstance(error, CancelledError)
        kept.trouble = "" if stopped else str(error)
        self.report(
            {"INFO" if stopped else "ERROR"},
            worded(str(error), inches=in_inches(bpy.context.scene)),
        )
        return {"CANCELLED"}


def _tell_and_wake(context: bpy.types.Context, what: str) -> Callable[[], None]:
    """Write into the status bar and start a timer; return how to end both."""
    manager, workspace = context.window_manager, context.workspace
    timer = manager.event_timer_add(SECONDS_BETWEEN_LOOKS, window=context.window)
    workspace.status_text_set(f"{what}    Esc to cancel")

    def clear_away() -> None:
        manager.event_timer_remove(timer)
        workspace.status_text_set(None)
        redraw(bpy.context)

    return clear_away
