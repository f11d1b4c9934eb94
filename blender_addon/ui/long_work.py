"""What operators have in common whose work runs in a thread, beside the window."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any, ClassVar

import bpy

from ..bridge.background import Work
from ..bridge.kept import kept
from ..bridge.worded import said_in
from ..core.errors import CancelledError, RiselineError
from ..core.watch import Watch
from . import status_bar
from .hands_full import hands_full
from .view import redraw

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

SECONDS_BETWEEN_LOOKS = 0.02
"""Work of half a second should not wait long for being seen to be over."""

SECONDS_BETWEEN_DRAWS = 0.5
"""Of sidebar and status bar, which tell how far the work is: at 0.1 s it takes twice as long."""


class LongWork:
    """A mix-in: `gather` in the window, work beside it, `finish` in the window with the result.

    ``doing`` is for the status bar; work that ``changes_scene`` waits with its result until nothing
    is edited or dragged.
    """

    doing: ClassVar[str]
    changes_scene: ClassVar[bool] = True

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
        kept.clear_away = _wake(context)
        status_bar.tell(self.doing, self._work)
        self._draw_at_s = time.monotonic() + SECONDS_BETWEEN_DRAWS
        context.window_manager.modal_handler_add(self)
        redraw(context)
        return {"RUNNING_MODAL"}

    def modal(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Look whether the work is over; let everything but Esc through to Blender."""
        if kept.work is not self._work:
            return {"CANCELLED"}
        if event.type == "ESC" and event.value == "PRESS" and not _chooses_file(context):
            self._work.cancel()
            self._tell(context)
            return {"RUNNING_MODAL"}
        if event.type != "TIMER":
            return {"PASS_THROUGH"}
        over = self._work.poll()
        if not (over or self._work.has_ahead) or self._must_wait(context, over=over):
            self._draw(context)
            return {"PASS_THROUGH"}
        if over:
            return self._end(context)
        self.show_ahead(context, *self._work.ahead())
        return {"PASS_THROUGH"}

    def _must_wait(self, context: bpy.types.Context, *, over: bool) -> bool:
        """Tell whether what is there must not go into the scene yet, and say why if it is all."""
        stops = self._work.stopping and not self.is_ahead
        full = hands_full(context) if self.changes_scene and not stops else ""
        self._work.waits_for = full if over else ""
        return bool(full)

    def _end(self, context: bpy.types.Context) -> set[str]:
        stopped = self._work.stopping
        self.cancel(context)
        try:
            result = self._work.result()
            if stopped and self.changes_scene:
                raise CancelledError  # noqa: TRY301 - it was over, but not yet in the scene
            return self.finish(context, result)
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
            self._tell(context)

    def _tell(self, context: bpy.types.Context) -> None:
        status_bar.tell(self.doing, self._work)
        redraw(context)

    def cancel(self, context: bpy.types.Context) -> None:
        """Leave the window as it was; Blender calls this too, when it closes or loads a file."""
        if kept.work is self._work:
            kept.end_work()

    @property
    def is_ahead(self) -> bool:
        """Whether something is shown ahead, which has to be taken back when the work is stopped."""
        return False

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
            said_in(bpy.context.scene, str(error)),
        )
        return {"CANCELLED"}


def _wake(context: bpy.types.Context) -> Callable[[], None]:
    """Start a timer; return how to end it, and what is told in the status bar."""
    manager = context.window_manager
    timer = manager.event_timer_add(SECONDS_BETWEEN_LOOKS, window=context.window)

    def clear_away() -> None:
        manager.event_timer_remove(timer)
        status_bar.clear()
        redraw(bpy.context)

    return clear_away


def _chooses_file(context: bpy.types.Context) -> bool:
    """Tell whether the window shows Blender's file selector alone, whose Esc closes it."""
    return all(one.type == "FILE_BROWSER" for one in context.window.screen.areas)
