"""The worker that the window polls."""

from __future__ import annotations

import threading

import pytest

from blender_addon.bridge.background import Work
from blender_addon.core.errors import CancelledError, UnusableMeshError

STAGES = {"First": 3.0, "Second": 1.0}
LONGEST_S = 60.0
"""Far more than it takes: the machine may be busy."""


def _wait(work):
    done = threading.Event()
    for _ in range(round(LONGEST_S / 0.005)):
        if work.poll():
            return
        done.wait(0.005)
    raise TimeoutError


def test_progress_is_the_share_of_what_all_stages_commonly_take():
    def task(watch):
        watch.begin("First")
        watch.begin("Second")
        watch.at(0.5)
        return 42

    work = Work(task, STAGES)
    _wait(work)
    assert work.result() == 42
    assert work.left_s is None  # it was over before anything could be told
    assert (work.stage, work.fraction, work.total) == ("Second", 0.5, 0.875)


def test_it_stops_at_its_next_report_when_cancelled():
    started, go_on = threading.Event(), threading.Event()

    def task(watch):
        watch.begin("First")
        started.set()
        go_on.wait(LONGEST_S)
        watch.at(0.9)
        return "never"

    work = Work(task, STAGES)
    assert started.wait(LONGEST_S)
    assert not work.poll()
    work.cancel()
    assert work.stopping
    go_on.set()
    _wait(work)
    with pytest.raises(CancelledError):
        work.result()
    assert work.fraction == 0.0


def test_what_the_work_raises_reaches_who_asks_for_the_result():
    def task(_watch):
        raise UnusableMeshError("no good")

    work = Work(task, STAGES)
    _wait(work)
    with pytest.raises(UnusableMeshError, match="no good"):
        work.result()
