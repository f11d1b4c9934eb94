"""Run in a window by the screen tool: the longest time that the window stood still, by stage.

A timer ticks in Blender's own loop, which is busy for as long as the window does not answer: the
time between two ticks is what a person waits. What the tool puts in scope is taken by name.
"""

from __future__ import annotations

import importlib
import json
import sys
import threading
import time
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import bpy

if TYPE_CHECKING:
    from collections.abc import Callable

HANDS = dict(globals())
SCAN = Path(sys.argv[1])
SECONDS_BETWEEN_TICKS = 0.01
LONG_S = 0.1
"""Stalls as long as this are told one by one, with the place in our code."""
MOST_TOLD = 15
LONGEST_S = 600
WITH_UNDO = True


def hand(name: str) -> Callable[..., Any]:
    """Return one of the tool's functions."""
    return HANDS[name]


def kept() -> Any:
    """Return what the installed add-on keeps in memory."""
    return importlib.import_module(hand("extension") + ".bridge.kept").kept


class Ticks:
    """Counts time between ticks under the name of what goes on; a thread notes where it stands."""

    def __init__(self) -> None:
        self.phase, self.longest_s, self.whole_s = "", defaultdict(float), defaultdict(float)
        self.long: list[tuple[str, float, str]] = []
        self._last_s, self._where, self._over = time.monotonic(), "", False
        self._main = threading.get_ident()

    def begin(self) -> None:
        """Tick from now on."""
        threading.Thread(target=self._look, daemon=True).start()
        bpy.app.timers.register(self.tick, persistent=True)

    def end(self) -> None:
        """Tick no more."""
        self._over = True

    def tick(self) -> float | None:
        """Add the time since the last tick to what goes on."""
        now_s = time.monotonic()
        gap_s, work = now_s - self._last_s, kept().work
        name = f"{self.phase}: {work.stage or 'begin'}" if work else self.phase
        self.longest_s[name] = max(self.longest_s[name], gap_s)
        self.whole_s[name] += gap_s
        if gap_s >= LONG_S:
            self.long.append((name, gap_s, self._where or "not in Python, or held by a thread"))
        self._last_s, self._where = time.monotonic(), ""
        return None if self._over else SECONDS_BETWEEN_TICKS

    def _look(self) -> None:
        """Note the line of ours that the window waits for, once it has waited half of long."""
        while not self._over:
            time.sleep(LONG_S / 4)
            if time.monotonic() - self._last_s < LONG_S / 2:
                continue
            frame, ours = sys._current_frames().get(self._main), ""  # noqa: SLF001
            while frame and not ours:
                path = Path(frame.f_code.co_filename)
                if "riseline" in path.parts or path.name == Path(__file__).name:
                    ours = f"{path.parent.name}/{path.name}:{frame.f_lineno} {frame.f_code.co_name}"
                frame = frame.f_back
            self._where = ours or self._where


async def until_free() -> None:
    """Wait for the end of the work."""
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    await hand("pause")(1.0)


async def import_and_measure(ticks: Ticks) -> None:
    """Read the file as the drop does, and let the panel measure it."""
    ticks.phase = "Import"
    bpy.data.objects.remove(bpy.data.objects["Cube"])
    with hand("view3d")():
        bpy.ops.riseline.read_scan("INVOKE_DEFAULT", WITH_UNDO, filepath=str(SCAN))
    await hand("until")(lambda: SCAN.stem in bpy.data.objects, LONGEST_S)
    ticks.phase = "Measure"
    await until_free()
    bpy.context.scene.riseline.scan.height_mm = 150.0
    await hand("redraw")()
    await hand("pause")(3.0)


async def lay_out(ticks: Ticks, phase: str) -> None:
    """Run the whole job, and tell how long it took."""
    stored = bpy.context.scene.riseline.results
    ticks.phase, token = phase, stored.token
    with hand("view3d")():
        bpy.ops.riseline.lay_out("INVOKE_DEFAULT", WITH_UNDO, afresh=True)
    await hand("until")(lambda: bpy.context.scene.riseline.results.token != token, LONGEST_S)
    ticks.phase = f"{phase}: bring in and draw"
    await hand("redraw")()
    await until_free()


def case_high() -> float:
    """Return how high the case is that stands in the scene."""
    things = (one for one in bpy.context.scene.objects if one.get("riseline_role") == "case")
    return max(float(one.dimensions.z) for one in things)


async def change_and_undo(ticks: Ticks) -> tuple[float, float]:
    """Change the case, wait for what follows, and take it back.

    Returns the seconds until case and parts are seen, and until all of the layout is.
    """
    stored = bpy.context.scene.riseline
    ticks.phase, token, before = "Change", stored.results.token, case_high()
    stored.case.cover_mm = stored.case.cover_mm + 5.0
    began_s = time.monotonic()
    await hand("until")(lambda: case_high() != before, LONGEST_S)
    seen_s = time.monotonic() - began_s
    await hand("until")(lambda: bpy.context.scene.riseline.results.token != token, LONGEST_S)
    whole_s = time.monotonic() - began_s
    await until_free()
    ticks.phase = "Undo"
    with hand("view3d")() as context:
        middle = hand("point")(context.region, context.region.width / 3, context.region.height / 2)
    await hand("move")(middle)
    await hand("key")("ctrl+z")
    await hand("pause")(3.0)
    return seen_s, whole_s


async def stop(ticks: Ticks) -> float:
    """Press Esc in the middle of the bubbles; return the seconds until the work was gone."""
    ticks.phase = "Stop"
    with hand("view3d")():
        bpy.ops.riseline.lay_out("INVOKE_DEFAULT", WITH_UNDO, afresh=True)
    work = kept().work
    await hand("until")(lambda: work.stage == "Bubbles" and work.fraction > 0.0, LONGEST_S)
    await hand("key")("Escape")
    began_s = time.monotonic()
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    return time.monotonic() - began_s


def tell(ticks: Ticks, changed_s: tuple[float, float], stop_s: float) -> None:
    """Print the table, and the long ones."""
    lines = [f"{'':42}{'longest':>9}{'whole':>9}"]
    lines += [f"{name:42}{longest_s:8.3f}s{ticks.whole_s[name]:8.1f}s"
              for name, longest_s in ticks.longest_s.items()]  # fmt: skip
    longest = sorted(ticks.long, key=lambda one: -one[1])[:MOST_TOLD]
    lines += [f"From a changed case to case and parts: {changed_s[0]:.2f} s"]
    lines += [f"From a changed case to the whole layout: {changed_s[1]:.2f} s"]
    lines += [f"From Esc to free: {stop_s:.2f} s", ""]
    lines += [f"Of {len(ticks.long)} stalls of {LONG_S} s and more, the longest:"]
    lines += [f"{seconds:6.3f} s  {name:40} {where}" for name, seconds, where in longest]
    print("\n".join(lines), flush=True)
    found = {
        "longest_s": ticks.longest_s,
        "long": ticks.long,
        "changed_s": changed_s,
        "stop_s": stop_s,
    }
    (Path(hand("out")) / "stalls.json").write_text(json.dumps(found), encoding="utf-8")


async def main() -> int:
    """Read, lay out, change, undo, stop."""
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("until")(lambda: sidebar.width > 1)
    ticks = Ticks()
    ticks.begin()
    ticks.phase = "Idle"
    await hand("pause")(2.0)
    await import_and_measure(ticks)
    ticks.phase = "Redraw of the view alone"
    for _ in range(3):
        await hand("redraw")()
        await hand("pause")(0.5)
    await lay_out(ticks, "First")
    await lay_out(ticks, "Again")
    changed_s = await change_and_undo(ticks)
    stop_s = await stop(ticks)
    ticks.end()
    tell(ticks, changed_s, stop_s)
    return 0
