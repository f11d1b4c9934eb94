"""How a finished work gets into the scene, or not."""

from __future__ import annotations

from types import SimpleNamespace

import bpy
import pytest

from blender_addon.bridge.background import Work
from blender_addon.bridge.kept import kept
from blender_addon.ui.hands_full import LEAVE_MODE
from blender_addon.ui.long_work import LongWork

pytestmark = pytest.mark.usefixtures("scene")
TIMER = SimpleNamespace(type="TIMER", value="NOTHING")
ESC = SimpleNamespace(type="ESC", value="PRESS")
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
    changes_scene = False


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
