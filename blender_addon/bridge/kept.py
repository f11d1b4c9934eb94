"""What is kept in memory between two runs: the last layouts, what stages remember, work under way.

A layout is found by the token that its results bear in the scene. So undo and redo, which bring
back earlier results, bring back the layout that belongs to them; a file from disk has none.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..core.memo import Memo
from ..core.pipeline import STAGES
from .marks import MarksReader
from .mesh import MeshReader
from .paint import PaintReader

if TYPE_CHECKING:
    from collections.abc import Callable

    import bpy
    from mathutils import Vector

    from ..core.layout import Layout
    from .background import Work

LAYOUTS_KEPT = 3
"""Enough for undo and redo; each holds several copies of a scan's arrays."""

COMMON_PACE_S = {
    **dict.fromkeys(STAGES, 1.0), "Scan": 3.0, "Bubbles": 12.0, "Resin": 2.0, "Funnel": 0.2,
}  # fmt: skip
"""Seconds that the stages take, until they were seen to: measured on a scan of 870 000 triangles
with two cores."""


@dataclass
class Desk:
    """What is at hand for one scene: its readers, and the memory of stages."""

    meshes: MeshReader = field(default_factory=MeshReader)
    paint: PaintReader = field(default_factory=PaintReader)
    marks: MarksReader = field(default_factory=MarksReader)
    memo: Memo = field(default_factory=Memo)


class Kept:
    """Everything that outlives an operator and is not saved with the file."""

    def __init__(self) -> None:
        self.work: Work[Any] | None = None
        self.clear_away: Callable[[], None] | None = None
        self.trouble = ""
        self.mark: tuple[str, Vector] | None = None
        self.pace_s: dict[str, float] = dict(COMMON_PACE_S)
        self._layouts: dict[str, Layout] = {}
        self._desks: dict[tuple[int, int], Desk] = {}

    def desk(self, scene: bpy.types.Scene, scan: bpy.types.Object) -> Desk:
        """Return what is at hand for a piece in a scene; only the last one is kept."""
        key = (scene.session_uid, scan.session_uid)
        if key not in self._desks:
            self._desks = {key: Desk()}
        return self._desks[key]

    def start_afresh(self) -> None:
        """Forget what stages remember: the next run computes everything."""
        self._desks.clear()

    def add(self, layout: Layout) -> str:
        """Keep a layout; return the token to find it by."""
        token = uuid.uuid4().hex
        self._layouts[token] = layout
        self.pace_s |= {stage: took_s for stage, took_s in layout.timings_s.items() if took_s}
        for old in list(self._layouts)[:-LAYOUTS_KEPT]:
            del self._layouts[old]
        return token

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
        """Stop what runs and drop everything: another file is loaded, or the add-on goes."""
        self.end_work()
        self.trouble, self.mark = "", None
        self._layouts.clear()
        self._desks.clear()


kept = Kept()
"""The one there is, until Blender is closed."""
