"""Thirty runs leave what one leaves: nothing piles up in the file, in memory or in threads."""

from __future__ import annotations

import threading

import bpy
import pytest

import blender_addon
from blender_addon.bridge.kept import LAYOUTS_KEPT, kept
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
