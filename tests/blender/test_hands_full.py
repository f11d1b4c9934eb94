"""When a result waits for what a person is at."""

from __future__ import annotations

from types import SimpleNamespace

import bpy
import pytest

from blender_addon.bridge import names
from blender_addon.ui import hands_full

pytestmark = pytest.mark.usefixtures("scene")


@pytest.fixture
def cube():
    bpy.ops.mesh.primitive_cube_add()
    return bpy.context.object


@pytest.mark.parametrize(
    ("mode", "waits_for"),
    [("OBJECT", ""), ("EDIT", hands_full.LEAVE_MODE), ("SCULPT", hands_full.LEAVE_MODE)],
)
def test_a_result_waits_for_object_mode(cube, mode, waits_for):
    if mode != "OBJECT":
        bpy.ops.object.mode_set(mode=mode)
    assert cube.mode == mode
    assert hands_full.hands_full(bpy.context) == waits_for


@pytest.mark.parametrize(("own", "waits_for"), [(True, hands_full.LEAVE_MODE), (False, "")])
def test_an_edited_part_of_a_layout_is_waited_for_from_another_scene_too(cube, own, waits_for):
    if own:
        cube[names.OWN] = "master"
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.context.window.scene = bpy.data.scenes.new("Plinth")
    assert bpy.context.mode == "OBJECT"
    assert cube.mode == "EDIT"
    assert hands_full.hands_full(bpy.context) == waits_for


class Watching(bpy.types.Operator):
    """An add-on's operator that runs all day"""

    bl_idname = "riseline_test.watching"
    bl_label = "Watching"


@pytest.fixture
def of_an_addon():
    bpy.utils.register_class(Watching)
    yield "RISELINE_TEST_OT_watching"
    bpy.utils.unregister_class(Watching)


def _running(name, *told):
    """Return what stands for a running operator with these properties."""
    properties = SimpleNamespace(bl_rna=SimpleNamespace(properties=dict.fromkeys(told)))
    return SimpleNamespace(bl_idname=name, properties=properties)


def _with(*running):
    windows = [SimpleNamespace(modal_operators=[one]) for one in running]
    return SimpleNamespace(mode="OBJECT", window_manager=SimpleNamespace(windows=windows))


@pytest.mark.parametrize("own", ["TRANSFORM_OT_translate", "OBJECT_OT_duplicate_move"])
def test_blenders_own_drags_are_waited_for_and_what_an_addon_runs_all_day_is_not(of_an_addon, own):
    watching = _running(of_an_addon)
    assert hands_full.hands_full(_with(watching)) == ""
    assert hands_full.hands_full(_with(watching, _running(own, "value"))) == hands_full.LET_GO


def test_an_open_file_selector_is_not_waited_for():
    saving = _running("WM_OT_save_as_mainfile", "filepath", "compress")
    assert hands_full.hands_full(_with(saving)) == ""
