"""Thirty runs leave what one leaves: nothing piles up in the file, in memory or in threads."""

from __future__ import annotations

import threading
from types import SimpleNamespace

import bpy
import pytest

import blender_addon
from blender_addon.bridge.kept import LAYOUTS_KEPT, kept
from blender_addon.ui import live as live_module
from tests import shapes

from .conftest import add

RUNS = 30
KINDS = ("meshes", "objects", "materials", "collections", "curves", "images", "node_groups")


def _held():
    handlers = {
        name: len(getattr(bpy.app.handlers, name))
        for name in dir(bpy.app.handlers)
        if isinstance(getattr(bpy.app.handlers, name), list)
    }
    return {kind: len(getattr(bpy.data, kind)) for kind in KINDS}, handlers


def _threads():
    return [one for one in threading.enumerate() if one.name.startswith("riseline")]


@pytest.mark.usefixtures("scene")
def test_thirty_runs_leave_what_one_leaves():
    stored = bpy.context.scene.riseline
    stored.bubbles.pitch_mm = 4.0
    add("box", shapes.box((40, 30, 50)))
    bpy.ops.riseline.lay_out()
    first, tokens = _held(), []
    for number in range(RUNS):
        stored.rubber.spare_percent = 5.0 + number
        stored.show_thickness = bool(number % 2)
        assert bpy.ops.riseline.lay_out() == {"FINISHED"}
        tokens.append(stored.results.token)
    assert _held() == first
    known = [kept.layout(token) for token in tokens]
    assert sum(one is not None for one in known) == LAYOUTS_KEPT
    assert _threads() == []
    orphans = [one.name for one in bpy.data.meshes if not one.users]
    assert orphans == []


def test_taking_the_add_on_away_leaves_no_handler_thread_or_menu_entry():
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    before = _held()
    for _ in range(3):
        blender_addon.register()
        assert _held() != before  # a handler is there while it is enabled
        blender_addon.unregister()
        assert _held() == before
    assert _threads() == []
    assert kept.work is None
    assert not [one for one in dir(bpy.types) if one.startswith("RISELINE_")]
    assert not hasattr(bpy.types.Scene, "riseline_parked")


def test_taking_the_add_on_away_stops_its_timer_and_its_process(monkeypatch):
    timers, closed = bpy.app.timers, []
    in_a_window = SimpleNamespace(app=SimpleNamespace(background=False, timers=timers))
    monkeypatch.setattr(live_module, "bpy", in_a_window)
    blender_addon.register()
    assert timers.is_registered(live_module.live.timer)
    hand = SimpleNamespace(end=lambda: closed.append("end"), close=lambda: closed.append("close"))
    monkeypatch.setattr(kept, "hand", hand)
    blender_addon.unregister()
    assert not timers.is_registered(live_module.live.timer)
    assert closed[-1] == "close"


@pytest.mark.usefixtures("scene")
def test_another_file_begins_without_the_troubles_and_the_memory_of_the_one_before(monkeypatch):
    ended = []
    monkeypatch.setattr(kept, "hand", SimpleNamespace(end=lambda: ended.append(1), close=int))
    kept.trouble, kept.mark = "It is flat.", ("a token", (0.0, 0.0, 0.0))
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    assert (kept.trouble, kept.mark) == ("", None)
    assert ended
