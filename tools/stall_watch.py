"""Run in a window by the screen tool: the longest time that the window stood still, by stage.

First Blender alone reads and draws the scan, then the add-on works on it. What the tool puts in
scope is taken by name.
"""

from __future__ import annotations

import importlib
import json
import sys
import time
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import bpy

sys.path.insert(0, str(Path(__file__).parent))

import stall_ticks
from stall_ticks import AGAIN, FIRST, READ, Ticks

if TYPE_CHECKING:
    from collections.abc import Callable

HANDS = dict(globals())
SCAN = Path(sys.argv[1])
LONGEST_S = 600
WITH_UNDO = True
REDRAWS = 7


def hand(name: str) -> Callable[..., Any]:
    """Return one of the tool's functions."""
    return HANDS[name]


def kept() -> Any:
    """Return what the installed add-on keeps in memory."""
    return importlib.import_module(hand("extension") + ".bridge.kept").kept


async def until_free() -> None:
    """Wait for the end of the work."""
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    await hand("pause")(1.0)


async def redraw_often() -> None:
    """Have all of the window drawn, one time after the other."""
    for _ in range(REDRAWS):
        await hand("redraw")()
        await hand("pause")(0.5)


async def blender_alone(ticks: Ticks) -> None:
    """Let Blender read the scan by its own means and draw it, and take it away again."""
    bpy.data.objects.remove(bpy.data.objects["Cube"])
    readers = {".ply": bpy.ops.wm.ply_import, ".obj": bpy.ops.wm.obj_import,
               ".stl": bpy.ops.wm.stl_import}  # fmt: skip
    if SCAN.suffix.lower() not in readers:
        return
    ticks.phase = READ
    await hand("pause")(0.5)
    with hand("view3d")():
        readers[SCAN.suffix.lower()](filepath=str(SCAN))
        ticks.tick()
        ticks.phase = FIRST
        bpy.ops.view3d.view_selected()
        bpy.ops.ed.undo_push(message="Import")  # as Blender's own import does before it draws
    await hand("redraw")()
    await hand("pause")(1.0)
    ticks.phase = AGAIN
    await redraw_often()
    ticks.phase = "Idle"
    for thing in list(bpy.context.selected_objects):
        data = thing.data
        bpy.data.objects.remove(thing)
        bpy.data.meshes.remove(data)
    await hand("pause")(1.0)


async def import_and_measure(ticks: Ticks) -> None:
    """Read the file as the drop does, and let the panel measure it."""
    ticks.phase = "Import"
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
    lines = stall_ticks.table(ticks)
    lines += [f"From a changed case to case and parts: {changed_s[0]:.2f} s"]
    lines += [f"From a changed case to the whole layout: {changed_s[1]:.2f} s"]
    lines += [f"From Esc to free: {stop_s:.2f} s", "", *stall_ticks.longest(ticks)]
    print("\n".join(lines), flush=True)
    found = {
        "stalls": [asdict(one) for one in ticks.stalls if one.seconds >= stall_ticks.LONG_S],
        "redraw_alone_s": ticks.alone_s(AGAIN),
        "changed_s": changed_s,
        "stop_s": stop_s,
    }
    (Path(hand("out")) / "stalls.json").write_text(json.dumps(found), encoding="utf-8")


async def main() -> int:
    """Let Blender draw alone; then read, lay out, change, undo, stop."""
    ticks = Ticks(lambda: (kept().work.stage or "begin") if kept().work else "", SCAN.stem)
    ticks.phase = "Idle"
    ticks.begin()
    await blender_alone(ticks)
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("until")(lambda: sidebar.width > 1)
    await hand("pause")(2.0)
    await import_and_measure(ticks)
    ticks.phase = "Redraw of scan and panel"
    await redraw_often()
    await lay_out(ticks, "First")
    await lay_out(ticks, "Again")
    changed_s = await change_and_undo(ticks)
    stop_s = await stop(ticks)
    ticks.end()
    tell(ticks, changed_s, stop_s)
    return 0
