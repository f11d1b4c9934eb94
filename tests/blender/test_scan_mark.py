"""A scan that was edited, turned or scaled since it was laid out makes the layout out of date."""

from __future__ import annotations

import bpy
import numpy as np
import pytest

from blender_addon.bridge import scan_mark
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.bridge.properties import STAGES
from tests import shapes

from .conftest import add

ALL_BUT_PAPER = tuple(stage for stage in STAGES if stage != "sheet")


@pytest.fixture
def laid_out(scene):
    scene.riseline.bubbles.pitch_mm = 4.0
    box = add("box", shapes.box((40, 30, 50)))
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    assert outdated_stages(scene) == ()
    return box


def _edit(box):
    box.data.vertices[0].co.z += 0.001
    box.data.update()


def _add_modifier(box):
    box.modifiers.new("Softer", "SUBSURF")


def _turn(box):
    box.rotation_euler.x = 0.1


def _scale(box):
    box.scale.z = 1.1


def _other_unit(_box):
    bpy.context.scene.unit_settings.scale_length = 0.5


def _lose_a_face(box):
    faces = [tuple(face.vertices) for face in box.data.polygons][1:]
    corners = [tuple(vertex.co) for vertex in box.data.vertices]
    box.data.clear_geometry()
    box.data.from_pydata(corners, [], faces)


CHANGES = (_edit, _add_modifier, _turn, _scale, _other_unit, _lose_a_face)


def _stages_after(change):
    """Change the scan in one undo step; return what is out of date then."""
    bpy.ops.ed.undo_push(message="before")
    change(bpy.data.objects["box"])
    bpy.context.view_layer.update()
    bpy.ops.ed.undo_push(message=change.__name__)
    return set(outdated_stages(bpy.context.scene))


@pytest.mark.usefixtures("laid_out")
def test_every_change_of_the_piece_makes_all_stages_out_of_date_until_it_is_taken_back():
    for change in CHANGES:
        assert _stages_after(change) >= set(ALL_BUT_PAPER), change
        bpy.ops.ed.undo()
        assert outdated_stages(bpy.context.scene) == (), change
        bpy.ops.ed.redo()
        assert "scan" in outdated_stages(bpy.context.scene), change
        bpy.ops.ed.undo()


@pytest.mark.usefixtures("laid_out")
def test_laid_out_again_the_changed_piece_is_up_to_date():
    assert _stages_after(_turn)
    bpy.ops.riseline.lay_out()
    assert outdated_stages(bpy.context.scene) == ()


def _shift(box):
    box.location = (0.3, -0.2, 0.1)


def _rename(box):
    box.name = box.data.name = "another"


def _look_into_it(box):
    bpy.context.view_layer.objects.active = box
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.object.mode_set(mode="OBJECT")


def _give_material(box):
    box.data.materials.append(bpy.data.materials.new("clay"))


def _disable_in_views(box):
    box.rotation_euler.x = 0.1
    box.hide_viewport = True


@pytest.mark.usefixtures("laid_out")
def test_what_changes_no_number_leaves_the_layout_as_it_is():
    for harmless in (_shift, _rename, _look_into_it, _give_material, _disable_in_views):
        assert _stages_after(harmless) == set(), harmless
        bpy.ops.ed.undo()


@pytest.mark.usefixtures("laid_out")
def test_a_file_opened_anew_knows_whether_its_scan_is_the_one_laid_out(tmp_path):
    file = str(tmp_path / "mold.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert outdated_stages(bpy.context.scene) == ()
    bpy.data.objects["box"].scale.x = 2.0
    bpy.context.view_layer.update()
    assert "scan" in outdated_stages(bpy.context.scene)


def test_the_shape_is_read_once_until_blender_tells_of_a_change(scene, laid_out, monkeypatch):
    module = "blender_addon.bridge.scan_mark"
    reads = []
    real = scan_mark.read_raw
    monkeypatch.setattr(f"{module}.read_raw", lambda *told: reads.append(1) or real(*told))
    scan_mark.scan_marks.forget()
    for _ in range(5):
        outdated_stages(scene)
    assert len(reads) == 1
    _edit(laid_out)
    bpy.context.view_layer.update()
    for _ in range(5):
        outdated_stages(scene)
    assert len(reads) == 2


def test_a_scan_disabled_in_the_views_is_not_laid_out_as_if_it_stood_straight(laid_out):
    laid_out.rotation_euler.x = 0.5
    laid_out.hide_viewport = True
    assert not bpy.ops.riseline.lay_out.poll()
    laid_out.hide_viewport = False
    assert bpy.ops.riseline.lay_out.poll()


def test_of_a_scan_in_another_scene_than_the_windows_nothing_is_told(scene, laid_out):
    """Blender evaluates the one scene only: modifiers of the other are as they were."""
    assert scan_mark.scan_marks.now(scene, laid_out)
    bpy.context.window.scene = bpy.data.scenes.new("Plinth")
    assert scan_mark.scan_marks.now(scene, laid_out) is None


def test_turned_by_a_whole_turn_it_stands_as_before():
    turn = 2.0 * np.pi
    matrix = np.eye(4)
    matrix[:2, :2] = [[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]
    assert scan_mark.stand_mark(matrix) == scan_mark.stand_mark(np.eye(4))
