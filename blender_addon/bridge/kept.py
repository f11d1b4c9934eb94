"""What is kept in memory between two runs: the last layouts, what stages remember, work under way.

A layout is found by the token that its results bear in the scene. So undo and redo, which bring
back earlier results, bring back the layout that belongs to them; a file from disk has none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ..core.pipeline_inputs import inputs_of_stages
from .hand import Hand

if TYPE_CHECKING:
    from collections.abc import Callable

    from mathutils import Vector

    from ..core.layout import Layout
    from .background import Work

LAYOUTS_KEPT = 3
"""Enough for undo and redo; each holds several copies of a scan's arrays."""

COMMON_PACE_S = {
    **{stage.title(): 1.0 for stage in inputs_of_stages()},
    "Scan": 3.0, "Bubbles": 12.0, "Resin": 2.0, "Funnel": 0.2, "Cut": 7.0,
}  # fmt: skip
"""Seconds that the stages take, in the order in which they run, until they were seen to: measured
on a scan of 870 000 triangles with two cores."""


class Kept:
    """Everything that outlives an operator and is not saved with the file."""

    def __init__(self) -> None:
        self.work: Work[Any] | None = None
        self.clear_away: Callable[[], None] | None = None
        self.hand = Hand(beside=not bpy.app.background)
        self.trouble = ""
        self.mark: tuple[str, Vector] | None = None
        self.pace_s: dict[str, float] = dict(COMMON_PACE_S)
        self._round = 0
        self._layouts: dict[str, Layout] = {}

    def desk_of(self, scene_uid: int, piece_uid: int) -> tuple[int, int, int]:
        """Return what the desk is known by that remembers a piece of a scene."""
        return scene_uid, piece_uid, self._round

    def start_afresh(self) -> None:
        """Take an empty desk: the next run computes everything."""
        self._round += 1

    def add(self, token: str, layout: Layout) -> None:
        """Keep a layout, to be found by its token."""
        self._layouts[token] = layout
        self.pace_s |= {stage: took_s for stage, took_s in layout.timings_s.items() if took_s}
        for old in list(self._layouts)[:-LAYOUTS_KEPT]:
            del self._layouts[old]

    def layout(self, token: str) -> Layout | None:
        """Return the layout of a token, or None when it was made before Blender was started."""
        return self._layouts.get(token)

    def end_work(self) -> None:
        """Stop what runs, if anything does, and clear away what tells of it in the window."""
        if self.work is not None:
            self.work.cancel()
        if self.clear_away is not None:
            self.clear_away()
        self.work = self.clear_away = None

    def forget(self) -> None:
        """Stop what runs and drop everything: another file is loaded."""
        self.end_work()
        self.trouble, self.mark = "", None
        self._layouts.clear()
        self.hand.end()

    def begin(self) -> None:
        """Begin with nothing: the add-on comes, perhaps once more."""
        self.forget()
        self.hand = Hand(beside=not bpy.app.background)

    def close(self) -> None:
        """Stop what runs, also what waits for its turn, and drop everything: the add-on goes."""
        self.forget()
        self.hand.close()


kept = Kept()
"""The one there is, until Blender is closed."""
