"""How a finished work gets into the scene, or not."""

from __future__ import annotations

from types import SimpleNamespace

import bpy
import pytest

from blender_addon.bridge.background import Work
from blender_addon.bridge.kept import kept
from blender_addon.core.errors import UnusableMeshError
from blender_addon.ui import status_bar
from blender_addon.ui.hands_full import LEAVE_MODE
from blender_addon.ui.long_work import LongWork
from blender_addon.ui.operators.write_folder import WriteFolder

pytestmark = pytest.mark.usefixtures("scene")
TIMER = SimpleNamespace(type="TIMER", value="NOTHING")
ESC = SimpleNamespace(type="ESC", value="PRESS")
LET_GO_OF_ESC = SimpleNamespace(type="ESC", value="RELEASE")
CLICK = SimpleNamespace(type="LEFTMOUSE", value="PRESS")
FOUND = "what was found"


class Found(LongWork):
    """Its work is over at once."""

    doing = "Looking"

    def __init__(self):
        self.told, self.brought = [], []
        kept.work = self._work = Work(lambda _watch: FOUND, {})
        self._work.result()
        self._draw_at_s = 0.0

    def finish(self, _context, result):
        self.brought.append(result)
        return {"FINISHED"}

    def report(self, _kind, text):
        self.told.append(text)


class FoundAndShown(Found):
    """Something was shown ahead, which has to be taken back when it is stopped."""

    is_ahead = True

    def take_back(self):
        self.told.append("taken back")


class Written(Found):
    changes_scene = WriteFolder.changes_scene


def _edit(*, on):
    if on:
        bpy.ops.mesh.primitive_cube_add()
    bpy.ops.object.mode_set(mode="EDIT" if on else "OBJECT")


def test_in_object_mode_it_comes_at_once():
    work = Found()
    assert work.modal(bpy.context, TIMER) == {"FINISHED"}
    assert work.brought == [FOUND]
    assert kept.work is None


def test_in_edit_mode_it_waits_and_says_for_what_and_comes_afterwards():
    _edit(on=True)
    work = Found()
    for _ in range(3):
        assert work.modal(bpy.context, TIMER) == {"PASS_THROUGH"}
    assert kept.work.waits_for == LEAVE_MODE
    assert work.brought == []
    _edit(on=False)
    assert work.modal(bpy.context, TIMER) == {"FINISHED"}
    assert work.brought == [FOUND]


def test_files_are_written_in_edit_mode_as_well():
    _edit(on=True)
    work = Written()
    assert work.modal(bpy.context, TIMER) == {"FINISHED"}


def test_esc_while_it_waits_drops_what_was_found():
    _edit(on=True)
    work = Found()
    work.modal(bpy.context, TIMER)
    work.modal(bpy.context, ESC)
    assert work.modal(bpy.context, TIMER) == {"CANCELLED"}
    assert work.brought == []
    assert work.told == ["Cancelled: nothing was changed."]
    assert kept.work is None


def test_what_was_shown_ahead_is_taken_back_in_object_mode_only():
    _edit(on=True)
    work = FoundAndShown()
    work.modal(bpy.context, ESC)
    assert work.modal(bpy.context, TIMER) == {"PASS_THROUGH"}
    assert work.told == []
    _edit(on=False)
    assert work.modal(bpy.context, TIMER) == {"CANCELLED"}
    assert work.told == ["taken back", "Cancelled: nothing was changed."]


@pytest.mark.parametrize(
    ("areas", "stops"),
    [(["FILE_BROWSER"], False), (["VIEW_3D", "FILE_BROWSER"], True), (["VIEW_3D"], True)],
)
def test_esc_belongs_to_a_file_selector_that_fills_the_window(areas, stops):
    work = Found()
    screen = SimpleNamespace(areas=[SimpleNamespace(type=one) for one in areas])
    context = SimpleNamespace(
        window=SimpleNamespace(screen=screen), window_manager=bpy.context.window_manager
    )
    passed = work.modal(context, ESC) == {"PASS_THROUGH"}
    assert passed is not stops
    assert kept.work.stopping is stops


def test_all_but_a_pressed_esc_goes_on_to_blender_and_the_pressed_one_does_not():
    _edit(on=True)
    work = Found()
    for event in (LET_GO_OF_ESC, CLICK):
        assert work.modal(bpy.context, event) == {"PASS_THROUGH"}
        assert not kept.work.stopping
    assert work.modal(bpy.context, ESC) == {"RUNNING_MODAL"}
    assert kept.work.stopping


def test_work_of_a_file_that_was_closed_ends_and_leaves_that_of_the_new_file_alone():
    old, new = Found(), Found()
    assert kept.work is new._work  # noqa: SLF001 - what the operator holds is what is looked at
    assert old.modal(bpy.context, TIMER) == {"CANCELLED"}
    old.cancel(bpy.context)  # Blender calls it when it closes the file
    assert old.brought == []
    assert not kept.work.stopping
    assert new.modal(bpy.context, TIMER) == {"FINISHED"}


@pytest.mark.parametrize("error", [UnusableMeshError("It is flat."), ZeroDivisionError()])
def test_what_was_shown_ahead_is_taken_back_whatever_goes_wrong(error):
    class Failing(FoundAndShown):
        def finish(self, _context, _result):
            raise error

    work = Failing()
    if isinstance(error, ZeroDivisionError):  # our own fault, that has to show
        with pytest.raises(ZeroDivisionError):
            work.modal(bpy.context, TIMER)
        assert work.told == ["taken back"]
        assert kept.trouble == ""
    else:
        assert work.modal(bpy.context, TIMER) == {"CANCELLED"}
        assert work.told == ["taken back", "It is flat."]
        assert kept.trouble == "It is flat."


class _Manager:
    """Stands in for the window manager: counts its timers."""

    def __init__(self):
        self.windows, self.timers, self.modal = [], [], []

    def event_timer_add(self, seconds, *, window):
        assert window is not None
        self.timers.append(seconds)
        return seconds

    def event_timer_remove(self, timer):
        self.timers.remove(timer)

    def modal_handler_add(self, operator):
        self.modal.append(operator)


class Begun(Found):
    def __init__(self):
        self.told, self.brought = [], []

    def pace_s(self):
        return {"Case": 1.0}

    def begin(self, context):
        return self._begin(context, lambda _watch: FOUND)


@pytest.mark.parametrize("how", ["done", "file closed"])
def test_its_timer_and_its_words_in_the_status_bar_go_when_it_ends(monkeypatch, how):
    words, manager = [], _Manager()
    monkeypatch.setattr(status_bar, "_write", words.append)
    kept.trouble = "of the run before"
    work = Begun()
    assert work.begin(SimpleNamespace(window_manager=manager, window="w")) == {"RUNNING_MODAL"}
    assert kept.trouble == ""
    assert (manager.modal, len(manager.timers)) == ([work], 1)
    assert words[-1].startswith("Looking")
    if how == "done":
        kept.work.result()
        assert work.modal(bpy.context, TIMER) == {"FINISHED"}
    else:
        bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    assert manager.timers == []
    assert words[-1] is None
    assert kept.work is None


def test_the_status_bar_tells_the_stage_what_is_left_and_what_is_waited_for(monkeypatch):
    words = []
    monkeypatch.setattr(status_bar, "_write", words.append)
    work = SimpleNamespace(left_s=75.0, stage="Case", total=0.25, waits_for="", stopping=False)
    status_bar.tell("Laying out the mold", work)
    assert words[-1] == "Laying out the mold: Case 25%, 75 s left    Esc to cancel"
    work.waits_for = LEAVE_MODE
    status_bar.tell("Laying out the mold", work)
    assert words[-1] == f"{LEAVE_MODE}    Esc to cancel"
    work.stopping = True
    status_bar.tell("Laying out the mold", work)
    assert words[-1] == "Stopping"
    status_bar.clear()
    assert words[-1] is None
