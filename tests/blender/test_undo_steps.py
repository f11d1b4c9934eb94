"""Every button that changes something is one step of undo: back, nothing of it is left."""

from __future__ import annotations

import bpy
import pytest

from blender_addon.bridge.properties import read_settings
from blender_addon.core.settings import as_tables

from .conftest import add, mushroom

WITH_UNDO = ("EXEC_DEFAULT", True)

LAID_OUT = {"remove_layout", "take_case", "set_slit_start", "next_stop"}
"""What asks for a layout."""


def _pick_a_side():
    """Select the face of the piece that looks most to +x."""
    bpy.context.tool_settings.mesh_select_mode = (False, False, True)
    faces = bpy.context.object.data.polygons
    side = max(faces, key=lambda one: one.normal.x).index
    faces.foreach_set("select", [one.index == side for one in faces])
    bpy.ops.object.mode_set(mode="EDIT")


STEPS = {
    "use_preset": ({"preset": "large"}, None),
    "reset_stage": ({"stage": "resin"}, None),
    "take_unit": ({"unit": "inches"}, None),
    "show_inches": ({}, None),
    "pick_rubber": ({"material": "Typical Silicone, Shore A 40"}, None),
    "open_sample": ({"sample": "hedgehog.ply"}, None),
    "work_on": ({"name": "other"}, None),
    "stand_on_faces": ({}, _pick_a_side),
    "take_case": ({"kind": "printed round"}, None),
    "set_slit_start": ({"where": "KEEP"}, None),
    "next_stop": ({}, None),
    "remove_layout": ({}, None),
}
"""Each button with what it is told and what is done before."""


def _state():
    """Return what of the scene a button may change."""
    if bpy.context.mode != "OBJECT":
        bpy.ops.object.mode_set(mode="OBJECT")
    bpy.context.view_layer.update()
    scene = bpy.context.scene
    stored, units = scene.riseline, scene.unit_settings
    return {
        "settings": as_tables(read_settings(scene)),
        "units": (units.system, units.length_unit),
        "numbers": (stored.results.token, stored.results.case_kind),
        "piece": getattr(stored.piece, "name", ""),
        "tour": stored.tour,
        "objects": {one.name: tuple(map(tuple, one.matrix_basis)) for one in scene.objects},
    }


@pytest.mark.parametrize("button", STEPS)
def test_one_undo_takes_the_whole_of_a_button_back(scene, button):
    told, prepare = STEPS[button]
    add("other", mushroom()).select_set(state=False)
    scan = add("mushroom", mushroom())
    bpy.ops.riseline.work_on(name=scan.name)
    stored = scene.riseline
    stored.scan.up, stored.resin.shell_mm = "+z", 4.0
    stored.bubbles.pitch_mm = 4.0
    if button in LAID_OUT:
        bpy.ops.riseline.lay_out()
    before = _state()
    if prepare is not None:
        prepare()
    bpy.ops.ed.undo_push(message="before")
    assert getattr(bpy.ops.riseline, button)(*WITH_UNDO, **told) == {"FINISHED"}
    bpy.ops.ed.undo()
    assert _state() == before
    bpy.ops.ed.redo()
    assert _state() != before
