"""The stall watch tells what Blender needs to draw a scan alone from what comes on top of it."""

from __future__ import annotations

import sys
from pathlib import Path

import bpy
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools"))
import stall_ticks
from stall_ticks import AGAIN, FIRST, Ticks


@pytest.fixture
def clock(monkeypatch):
    """A clock that is set by hand, for both kinds of time."""
    now = {"s": 0.0}
    for name in ("monotonic", "process_time"):
        monkeypatch.setattr(stall_ticks.time, name, lambda: now["s"])
    return now


def _let_go(ticks, clock, seconds, *, phase, drawn=True):
    """Let time pass in a phase, in which the view is drawn or not, until the next tick."""
    ticks.phase = phase
    if drawn:
        ticks._note_drawing()  # noqa: SLF001 - Blender calls it when it draws
    clock["s"] += seconds
    ticks.tick()


@pytest.fixture
def ticks(clock):
    """A scan was read and drawn by Blender alone, and then by us; what follows takes 0.7 s."""
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    made = Ticks(lambda: "", "frog")
    _let_go(made, clock, 0.9, phase=FIRST)
    for seconds in (0.3, 0.5, 0.4, 0.01):
        _let_go(made, clock, seconds, phase=AGAIN, drawn=seconds > 0.1)
    bpy.data.objects.new("frog", None)
    _let_go(made, clock, 1.0, phase="Import")
    _let_go(made, clock, 0.7, phase="Change")
    _let_go(made, clock, 0.35, phase="Cut", drawn=False)
    return made


def test_a_redraw_of_the_scan_alone_is_the_one_in_the_middle_and_taken_off_where_it_was_drawn(
    ticks,
):
    assert ticks.alone_s(AGAIN) == pytest.approx(0.4)
    beyond = {one.phase: one.beyond_s for one in ticks.stalls}
    assert beyond["Import"] == pytest.approx(0.1)  # it was drawn for the first time
    assert beyond["Change"] == pytest.approx(0.3)
    assert beyond["Cut"] == pytest.approx(0.35)  # nothing was drawn: it is ours alone


def test_the_last_line_says_the_longest_stall_and_the_redraw_of_the_scan_alone(ticks):
    lines = stall_ticks.longest(ticks)
    assert lines[-1] == "Longest stall: 1.00 s in Import; redraw of the scan alone: 0.40 s"
    assert lines[-2] == "Longest beyond Blender's own drawing: 0.35 s in Cut"
    row = next(one for one in stall_ticks.table(ticks) if one.startswith("Change"))
    assert row.split() == ["Change", "0.700s", "0.700s", "0.300s", "0.7s"]


def test_without_a_format_that_blender_reads_all_of_it_counts_as_ours(clock):
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    made = Ticks(lambda: "Scan", "frog")
    _let_go(made, clock, 0.2, phase="First")
    assert (made.stalls[0].phase, made.stalls[0].beyond_s) == ("First: Scan", pytest.approx(0.2))
    assert made.alone_s(AGAIN) == 0.0
