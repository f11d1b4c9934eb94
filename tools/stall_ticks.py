"""The clock of the stall watch: what a person waits in a window, by what goes on, and what for.

A timer ticks in Blender's own loop, which is busy for as long as the window does not answer: the
time between two ticks is what a person waits. Part of that is Blender's drawing of the user's own
scan, which no add-on can take away: it is measured alone, and told apart.
"""

from __future__ import annotations

import sys
import threading
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

import bpy

if TYPE_CHECKING:
    from collections.abc import Callable

SECONDS_BETWEEN_TICKS = 0.01
LONG_S = 0.1
"""Stalls as long as this are told one by one, with the place in our code."""
MOST_TOLD = 15
ALONE = "Blender alone: "
"""Begins the phases in which the add-on has not done anything yet."""
READ, FIRST, AGAIN = (f"{ALONE}{what}" for what in ("read", "first redraw", "redraw"))
DRAWS = {FIRST, AGAIN}


@dataclass(frozen=True)
class Stall:
    """A time without an answer, in which the 3D view was drawn or not.

    ``busy_s`` is the time of all processors in it, of this process only. ``alone_s`` is how long
    Blender took to draw when there was nothing but the scan: for the first time, if it is new.
    """

    phase: str
    seconds: float
    busy_s: float
    drawn: bool
    alone_s: float
    where: str

    @property
    def beyond_s(self) -> float:
        """What is left of it without the drawing of the scan alone."""
        return max(self.seconds - self.alone_s, 0.0)


class Ticks:
    """Counts time between ticks under the name of what goes on; a thread notes where it stands.

    Parameters
    ----------
    stage : callable
        Returns the stage that is computed at the moment, or "".
    scan : str
        The name of the scan's object, once it is there.
    """

    def __init__(self, stage: Callable[[], str], scan: str) -> None:
        self.phase, self.stalls, self.whole_s = "", [], Counter()
        self._stage, self._scan = stage, scan
        self._places: Counter[str] = Counter()
        self._last_s, self._last_busy_s = time.monotonic(), time.process_time()
        self._drawn = self._seen = self._over = False
        self._main = threading.get_ident()
        self._handler = None

    def begin(self) -> None:
        """Tick from now on."""
        threading.Thread(target=self._look, daemon=True).start()
        bpy.app.timers.register(self.tick, persistent=True)
        add = bpy.types.SpaceView3D.draw_handler_add
        self._handler = add(self._note_drawing, (), "WINDOW", "POST_PIXEL")

    def end(self) -> None:
        """Tick no more."""
        self._over = True
        bpy.types.SpaceView3D.draw_handler_remove(self._handler, "WINDOW")

    def tick(self) -> float | None:
        """Add the time since the last tick to what goes on."""
        gap_s, stage = time.monotonic() - self._last_s, self._stage()
        phase = f"{self.phase}: {stage}" if stage else self.phase
        places, self._places = self._places, Counter()
        where = ", ".join(f"{place} {100 * count // sum(places.values())} %"
                          for place, count in places.most_common(2))  # fmt: skip
        busy_s = time.process_time() - self._last_busy_s
        alone_s = self._alone_s(phase)
        self.stalls.append(Stall(phase, gap_s, busy_s, self._drawn, alone_s, where))
        self.whole_s[phase] += gap_s
        self._drawn = False
        self._last_s, self._last_busy_s = time.monotonic(), time.process_time()
        return None if self._over else SECONDS_BETWEEN_TICKS

    def alone_s(self, phase: str) -> float:
        """Return the seconds that Blender alone needs for a redraw, or for the first one of a scan.

        Of several redraws the one in the middle counts.
        """
        found = [one.seconds for one in self.stalls if one.phase == phase and one.drawn]
        return (max(found) if phase == FIRST else median(found)) if found else 0.0

    def _alone_s(self, phase: str) -> float:
        """Return what Blender needs alone for what was drawn since the last tick."""
        if phase.startswith(ALONE) or not self._drawn:
            return 0.0
        was_seen, self._seen = self._seen, self._scan in bpy.data.objects
        return self.alone_s(AGAIN if was_seen else FIRST)

    def _note_drawing(self) -> None:
        self._drawn = True

    def _look(self) -> None:
        """Note the line of ours that the window waits for, once it has waited for a while."""
        while not self._over:
            time.sleep(LONG_S / 10)
            if time.monotonic() - self._last_s < LONG_S / 2:
                continue
            frame, ours = sys._current_frames().get(self._main), ""  # noqa: SLF001
            while frame and not ours:
                path = Path(frame.f_code.co_filename)
                if "riseline" in path.parts:
                    ours = f"{path.parent.name}/{path.name}:{frame.f_lineno} {frame.f_code.co_name}"
                frame = frame.f_back
            self._places[ours or "not in our code"] += 1


def table(ticks: Ticks) -> list[str]:
    """Return the longest stall of each phase, what of it is beyond Blender's own, and the whole."""
    lines = [f"{'':42}{'longest':>9}{'busy':>9}{'beyond':>9}{'whole':>9}"]
    for phase in ticks.whole_s:
        own = [one for one in ticks.stalls if one.phase == phase]
        most = max(own, key=lambda one: one.seconds)
        beyond_s = max(one.beyond_s for one in own)
        beyond = f"{'':9}" if phase.startswith(ALONE) else f"{beyond_s:8.3f}s"
        longest = f"{most.seconds:8.3f}s{most.busy_s:8.3f}s"
        lines.append(f"{phase:42}{longest}{beyond}{ticks.whole_s[phase]:8.1f}s")
    return [
        *lines,
        "Busy: the time of all processors in the longest, of Blender's own process",
        "Beyond: without the redraw of the scan alone, where the view was drawn meanwhile",
    ]


def longest(ticks: Ticks) -> list[str]:
    """Return the longest stalls, a line each, and in the last line the longest of all."""
    ours = [one for one in ticks.stalls if not one.phase.startswith(ALONE)]
    long = sorted((one for one in ours if one.seconds >= LONG_S), key=lambda one: -one.seconds)
    lines = [f"Of {len(long)} stalls of {LONG_S} s and more, the longest:"]
    lines += [f"{one.seconds:6.3f} s, {one.beyond_s:5.3f} s beyond  {one.phase:32} {one.where}"
              for one in long[:MOST_TOLD]]  # fmt: skip
    beyond = max(ours, key=lambda one: one.beyond_s)
    most = max(ours, key=lambda one: one.seconds)
    redraw = f"redraw of the scan alone: {ticks.alone_s(AGAIN):.2f} s"
    return [
        *lines,
        "",
        f"Longest beyond Blender's own drawing: {beyond.beyond_s:.2f} s in {beyond.phase}",
        f"Longest stall: {most.seconds:.2f} s in {most.phase}; {redraw}",
    ]
