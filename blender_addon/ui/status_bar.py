"""What the status bar tells of work that goes on: it is seen with the sidebar closed as well."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ..core.units import time_text

if TYPE_CHECKING:
    from ..bridge.background import Work


def tell(doing: str, work: Work[Any]) -> None:
    """Write how far the work is, whichever workspace is looked at."""
    left = f", {time_text(work.left_s)} left" if work.left_s is not None else ""
    words = f"{doing}: {work.stage} {work.total:.0%}{left}" if work.stage else doing
    if work.waits_for:
        words = work.waits_for
    _write("Stopping" if work.stopping else f"{words}    Esc to cancel")


def clear() -> None:
    """Leave the status bar to Blender again."""
    _write(None)


def _write(words: str | None) -> None:
    for workspace in bpy.data.workspaces:  # each has a text of its own
        workspace.status_text_set(words)
