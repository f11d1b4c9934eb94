"""The process beside the window: what it hands back, when it is stopped, and when it dies."""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace

import numpy as np
import pytest

from blender_addon.bridge import hand as hand_module
from blender_addon.bridge.hand import Hand
from blender_addon.core.desk.desk import Desk, ForgottenLayoutError
from blender_addon.core.desk.orders import Laying, Leaning, Measuring, Reading
from blender_addon.core.desk.pour import pour_of
from blender_addon.core.desk.read import Raw
from blender_addon.core.desk.serve import READY
from blender_addon.core.errors import (
    CancelledError,
    LostWorkError,
    UnreadableFileError,
    UnusableMeshError,
)
from blender_addon.core.files.stl import stl_bytes
from blender_addon.core.settings import Settings
from blender_addon.core.watch import Watch
from tests import shapes

from .conftest import mushroom


def _settings(**resin):
    plain = Settings()
    return replace(
        plain,
        scan=replace(plain.scan, up="+z"),
        bubbles=replace(plain.bubbles, pitch_mm=2.0, lean_limit_deg=0.0),
        resin=replace(plain.resin, **resin),
    )


def _raw(mesh=None):
    mesh = mesh or mushroom()
    return Raw(mesh.vertices.astype(np.float32), mesh.faces.astype(np.int32), np.eye(4))


def _assert_it_works(hand):
    """Order what takes no time, where any work will do: the mushroom is 60 mm high."""
    size_mm, _ = hand.run("piece", Measuring(_raw(), _settings().scan), Watch())
    assert size_mm[2] == pytest.approx(60.0, rel=1e-6)


@pytest.fixture
def hand():
    made = Hand(beside=True)
    yield made
    made.end()


def _ended(process_id):
    """Tell whether a process is gone, waiting a while for that."""
    pause = threading.Event()
    for _ in range(1200):  # a minute: the machine may be busy
        try:
            os.kill(process_id, 0)
        except ProcessLookupError:
            return True
        pause.wait(0.05)
    return False


def test_what_the_process_finds_is_what_is_found_without_it(hand):
    order = Laying(_raw(), None, _settings())
    beside, here = hand.run("piece", order, Watch()), order.run_at(Desk(), Watch())
    assert hand.process_id not in (None, os.getpid())
    for path in ("scan.volume_ml", "bubbles.trapped_ml", "rubber.mass_g", "resin.shell_g"):
        stage, name = path.split(".")
        found, wanted = (getattr(getattr(one.layout, stage), name) for one in (beside, here))
        assert found == wanted
    np.testing.assert_array_equal(
        beside.layout.cut.ribbon.vertices, here.layout.cut.ribbon.vertices
    )
    np.testing.assert_array_equal(beside.picture.rubber_mm, here.picture.rubber_mm)
    assert not beside.layout.scan.mesh.vertices.flags.writeable


def test_what_did_not_change_is_neither_computed_nor_sent_again(hand):
    fine = shapes.turned([(0, 0), (20, 0), (12, 30), (0, 30)], segments=400)  # its arrays are large
    first = hand.run("piece", Laying(_raw(fine), None, _settings()), Watch())
    second = hand.run("piece", Laying(_raw(fine), None, _settings(shell_mm=4.0)), Watch())
    assert second.layout.resin.shell_ml > first.layout.resin.shell_ml
    assert second.layout.scan.mesh.vertices is first.layout.scan.mesh.vertices
    assert second.layout.timings_s["Bubbles"] == first.layout.timings_s["Bubbles"]


def test_a_file_is_read_and_a_piece_measured_beside_the_window(hand, tmp_path):
    file = tmp_path / "block.stl"
    file.write_bytes(stl_bytes(shapes.box((40, 30, 50))))
    found = hand.run(None, Reading(str(file)), Watch())
    mesh = found.mesh
    assert mesh.bounds[1].tolist() == [40.0, 30.0, 50.0]
    raw = Raw(mesh.vertices, mesh.faces, np.diag([2.0, 2.0, 2.0, 1.0]))
    size_mm, axis = hand.run("block", Measuring(raw, replace(Settings().scan, up="+x")), Watch())
    assert (size_mm.tolist(), axis) == ([100.0, 60.0, 80.0], "+x")  # turned about y
    file.write_bytes(b"solid nothing")
    with pytest.raises(UnreadableFileError, match="block"):
        hand.run(None, Reading(str(file)), Watch())


def test_case_and_parts_come_ahead_of_the_cut(hand):
    told, ahead = [], []

    def show(_scan, case, parts):
        ahead.append((case, parts, list(told)))

    order = Laying(_raw(), None, _settings())
    laid = hand.run("piece", order, Watch(lambda stage, _: told.append(stage), show=show))
    ((case, parts, told_by_then),) = ahead
    assert "Parts" in told_by_then
    assert "Cut" not in told_by_then
    assert case.height_mm == laid.layout.case.height_mm
    names = [part.name for part in parts.parts]
    assert names == [part.name for part in laid.layout.parts.parts]


def test_a_lean_is_poured_into_the_layout_that_is_there_or_one_brought_along(hand):
    laid = hand.run("piece", Laying(_raw(), None, _settings()), Watch())
    lean_deg = 15.0, 40.0
    there = hand.run("piece", Leaning(laid.token, None, lean_deg), Watch())
    with pytest.raises(ForgottenLayoutError):
        hand.run("piece", Leaning("another", None, lean_deg), Watch())
    brought = hand.run(None, Leaning("another", laid.layout, lean_deg), Watch())
    wanted = pour_of(laid.layout, *lean_deg)
    for found in (there, brought):
        assert (found.degrees, found.trapped_ml) == (15.0, wanted.trapped_ml)
        np.testing.assert_array_equal(found.poured_ml, wanted.poured_ml)


def test_a_refusal_comes_back_as_it_was_raised(hand):
    flat = _raw(shapes.box((10, 10, 10)))
    bad = Raw(np.where(flat.vertices > 0, np.nan, flat.vertices), flat.faces, flat.matrix)
    with pytest.raises(UnusableMeshError, match="no finite position"):
        hand.run("piece", Laying(bad, None, _settings()), Watch())
    _assert_it_works(hand)


def test_when_it_is_stopped_nobody_waits_and_the_next_order_is_done(hand):
    stop = threading.Event()

    def tell(stage, _fraction):
        if stage == "Bubbles":
            stop.set()

    with pytest.raises(CancelledError):
        hand.run("piece", Laying(_raw(), None, _settings()), Watch(tell, stop.is_set))
    before = hand.process_id
    assert hand.run("piece", Laying(_raw(), None, _settings()), Watch()).layout.rubber.mass_g > 0.0
    assert hand.process_id == before


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not Windows'")
def test_when_the_process_dies_it_is_said_and_the_next_order_starts_another(hand):
    _assert_it_works(hand)
    lost = hand.process_id

    def tell(stage, _fraction):
        if stage == "Case":
            os.kill(lost, signal.SIGKILL)

    with pytest.raises(LostWorkError, match="-9"):
        hand.run("piece", Laying(_raw(), None, _settings()), Watch(tell))
    assert hand.process_id is None
    assert hand.run("piece", Laying(_raw(), None, _settings()), Watch()).layout.rubber.mass_g > 0.0
    assert hand.process_id != lost


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are not Windows'")
def test_a_process_that_died_with_nothing_to_do_is_not_missed(hand):
    _assert_it_works(hand)
    lost = hand.process_id
    os.kill(lost, signal.SIGKILL)
    assert os.waitid(os.P_PID, lost, os.WEXITED | os.WNOWAIT).si_pid == lost
    _assert_it_works(hand)
    assert hand.process_id != lost


def test_a_process_that_says_nothing_is_ended_and_the_work_is_done_without(hand, monkeypatch):
    started = []

    class Silent(subprocess.Popen):
        def __init__(self, argv, **more):
            super().__init__([argv[0], "-c", "import sys; sys.stdin.read()"], **more)
            started.append(self)

    monkeypatch.setattr(hand_module.subprocess, "Popen", Silent)
    monkeypatch.setattr(hand_module, "SECONDS_TO_START", 0.1)
    _assert_it_works(hand)
    assert started[0].poll() is not None
    assert hand.process_id is None


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_an_answer_that_cannot_be_read_is_waited_for_no_longer(hand, monkeypatch):
    class Stale(hand_module.Receiver):
        def receive(self):
            answer = super().receive()
            if answer[0] != READY:
                raise ImportError("a class of another version")
            return answer

    monkeypatch.setattr(hand_module, "Receiver", Stale)
    end_s = time.monotonic() + 60.0
    watch = Watch(cancelled=lambda: time.monotonic() > end_s)
    with pytest.raises(LostWorkError):
        hand.run("piece", Measuring(_raw(), _settings().scan), watch)
    assert hand.process_id is None


def test_it_is_gone_when_it_is_let_go(hand):
    _assert_it_works(hand)
    process_id = hand.process_id
    hand.end()
    assert _ended(process_id)
    assert hand.process_id is None
    gc.collect()
    names = [one.name for one in threading.enumerate() if one.name.startswith("riseline")]
    assert names == []


def test_without_a_python_to_start_it_works_all_the_same(hand, monkeypatch):
    monkeypatch.setattr(hand_module.sys, "executable", os.devnull)
    assert hand.process_id is None
    _assert_it_works(hand)


def _tried(hand, order, watch):
    """Run an order in a thread; return the thread, and where what it raises will stand."""
    raised = []

    def run():
        try:
            hand.run("piece", order, watch)
        except (CancelledError, LostWorkError) as error:
            raised.append(type(error))

    thread = threading.Thread(target=run)
    thread.start()
    return thread, raised


def _recorded(monkeypatch, then=lambda: None):
    """Return the processes that will be started; something else may be done after each."""
    started, own = [], subprocess.Popen

    def start(*words, **more):
        started.append(own(*words, **more))
        then()
        return started[-1]

    monkeypatch.setattr(hand_module.subprocess, "Popen", start)
    return started


def test_what_waits_for_its_turn_when_all_is_closed_starts_no_process(hand, monkeypatch):
    started = _recorded(monkeypatch)
    begun = threading.Event()
    watch = Watch(lambda *_: begun.set())
    first, first_raised = _tried(hand, Laying(_raw(), None, _settings()), watch)
    assert begun.wait(60.0)
    second, second_raised = _tried(hand, Measuring(_raw(), _settings().scan), Watch())
    hand.close()
    first.join(60.0)
    second.join(60.0)
    assert (first_raised, second_raised) == ([LostWorkError], [CancelledError])
    assert len(started) == 1
    assert _ended(started[0].pid)


def test_a_process_that_is_being_started_when_all_is_closed_is_ended(hand, monkeypatch):
    starting, go_on = threading.Event(), threading.Event()

    def slowly():
        starting.set()
        go_on.wait(60.0)

    started = _recorded(monkeypatch, slowly)
    thread, raised = _tried(hand, Measuring(_raw(), _settings().scan), Watch())
    assert starting.wait(60.0)
    hand.close()
    go_on.set()
    thread.join(60.0)
    assert raised == [CancelledError]
    assert _ended(started[0].pid)
