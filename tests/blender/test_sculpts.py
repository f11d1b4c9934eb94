"""Several pieces in one scene: each keeps its settings, numbers and layout."""

from __future__ import annotations

import bpy
import pytest

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.place import bounds
from blender_addon.bridge.sculpts import copy_group, pieces, work_on
from blender_addon.bridge.show import own_collection, own_objects
from blender_addon.ui.headlines import named
from blender_addon.ui.live import live
from tests import shapes

from .conftest import add, own

WITH_UNDO = ("EXEC_DEFAULT", True)


@pytest.fixture
def two(scene, scan):
    """Two pieces, each laid out; the second one is at work."""
    scene.riseline.scan.height_mm = 70.0
    bpy.ops.riseline.lay_out()
    scan.select_set(state=False)
    box = add("box", shapes.box((40, 30, 50)))
    bpy.ops.riseline.work_on(name=box.name)
    scene.riseline.scan.up = "+z"
    scene.riseline.resin.shell_mm = 4.0
    bpy.ops.riseline.lay_out()
    return scene, scan, box


def _numbers(scene):
    found = scene.riseline.results
    return found.token, found.rubber_mass_g, found.scan_size_mm[2], len(found.parts)


def test_each_piece_keeps_its_own_settings_numbers_and_layout(two):
    scene, scan, box = two
    assert pieces(scene) == [box, scan]
    assert scene.riseline.scan.height_mm == 0.0  # the size of the first is not that of the second
    of_box, collection = _numbers(scene), own_collection(scene)
    assert of_box[2] == pytest.approx(50.0, rel=1e-5)
    bpy.ops.riseline.work_on(name=scan.name)
    assert _numbers(scene)[2] == pytest.approx(70.0, rel=1e-5)
    assert scene.riseline.scan.height_mm == pytest.approx(70.0)
    assert scene.riseline.resin.shell_mm == pytest.approx(3.0)
    assert own_collection(scene) != collection
    assert collection.hide_viewport
    assert collection.hide_render
    assert not own_collection(scene).hide_viewport
    assert not own_collection(scene).hide_render
    bpy.ops.riseline.work_on(name=box.name)
    assert _numbers(scene) == of_box
    assert scene.riseline.resin.shell_mm == pytest.approx(4.0)
    assert own_collection(scene) == collection
    assert len(own(scene)) > 4


def test_what_follows_a_changed_setting_is_the_piece_at_work_whatever_is_selected(two):
    scene, scan, box = two
    box.select_set(state=False)
    bpy.context.view_layer.objects.active = scan
    scan.select_set(state=True)
    assert named(scene) == "box"  # these numbers are not those of the one selected
    height = scene.riseline.results.scan_size_mm[2]
    scene.riseline.resin.shell_mm = 5.0
    assert bpy.ops.riseline.lay_out(at_work=True) == {"FINISHED"}
    found = scene.riseline.results
    assert (scene.riseline.piece, found.source) == (box, "box")
    assert found.scan_size_mm[2] == height
    assert len(pieces(scene)) == 2


def test_each_view_goes_over_to_the_piece_that_is_worked_on(two):
    scene, scan, _ = two
    spaces = [a.spaces.active for a in bpy.context.window.screen.areas if a.type == "VIEW_3D"]
    assert spaces
    bpy.ops.riseline.work_on(name=scan.name)
    middle, _ = bounds(own_objects(scene))
    for space in spaces:
        assert (space.region_3d.view_location - middle).length < 1e-5


def test_the_numbers_of_a_piece_that_was_deleted_say_so(two):
    scene, scan, box = two
    scene.riseline.resin.shell_mm = 6.0
    assert [live.is_due(bpy.context), live.is_due(bpy.context)] == [False, True]
    scene.riseline.resin.shell_mm = 7.0
    bpy.data.objects.remove(box)
    assert [live.is_due(bpy.context), live.is_due(bpy.context)] == [False, False]
    assert named(scene) == "box (Deleted)"
    assert pieces(scene) == [scan]  # there is one to go on with
    bpy.ops.riseline.work_on(name=scan.name)
    assert named(scene) == ""


def test_laying_one_out_again_touches_nothing_of_the_other(two):
    scene, scan, _ = two
    others = {one.name for one in own_collection(scene).objects}
    bpy.ops.riseline.work_on(name=scan.name)
    bpy.ops.riseline.lay_out()
    assert others <= {one.name for one in scene.objects}
    assert kept.layout(scene.riseline.results.token) is not None


def test_new_names_and_a_saved_file_change_nothing(two, tmp_path):
    scene, scan, box = two
    scan.name, box.name = "toad", "brick"
    before = _numbers(scene)
    file = str(tmp_path / "two.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    scene = bpy.context.scene
    assert _numbers(scene) == before
    assert [one.name for one in pieces(scene)] == ["brick", "toad"]
    bpy.ops.riseline.work_on(name="toad")
    assert _numbers(scene)[2] == pytest.approx(70.0, rel=1e-5)


def test_undo_and_redo_of_the_change_bring_each_back(two):
    scene, scan, _ = two
    name = scan.name
    bpy.ops.ed.undo_push(message="before")
    of_box = _numbers(scene)
    bpy.ops.riseline.work_on(*WITH_UNDO, name=name)
    of_scan = _numbers(bpy.context.scene)
    bpy.ops.ed.undo()
    assert _numbers(bpy.context.scene) == of_box
    bpy.ops.ed.redo()
    assert _numbers(bpy.context.scene) == of_scan


def test_a_duplicate_is_a_piece_of_its_own_with_the_same_settings(two):
    scene, _, box = two
    other = box.copy()
    other.data = box.data.copy()
    scene.collection.objects.link(other)
    work_on(scene, other)
    assert not scene.riseline.results.token
    assert scene.riseline.resin.shell_mm == pytest.approx(4.0)
    assert len(pieces(scene)) == 3


def test_a_piece_that_was_deleted_is_forgotten_when_the_file_is_saved(two, tmp_path):
    scene, scan, box = two
    names_before = scan.name, box.name
    bpy.data.scenes[0].collection.objects.unlink(scan)
    bpy.data.scenes[0].collection.objects.unlink(box)
    assert pieces(scene) == []
    file = str(tmp_path / "gone.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert not set(names_before) & {one.name for one in bpy.data.objects}
    with pytest.raises(RuntimeError, match="Select the scan"):
        bpy.ops.riseline.lay_out()


def test_a_linked_copy_of_the_scene_keeps_its_layout_when_the_other_runs_again(two):
    scene, _, _ = two
    bpy.ops.scene.new(type="LINK_COPY")
    copy = bpy.context.scene
    before = {one.name for one in own_collection(scene).objects}
    bpy.context.window.scene = copy
    bpy.ops.riseline.lay_out()
    assert {one.name for one in own_collection(scene).objects} == before
    assert own_collection(copy) != own_collection(scene)


@pytest.mark.usefixtures("scan")
def test_a_layout_of_the_first_version_is_taken_over(scene):
    bpy.ops.riseline.lay_out()
    del own_collection(scene)[names.SCULPT]  # it knew one piece in a scene, and gave no mark
    scene.riseline.sculpt, scene.riseline.piece = "", None
    first = {one.name for one in own_collection(scene).objects}
    bpy.ops.riseline.lay_out()
    assert {one.name for one in own_collection(scene).objects} == first
    assert own_collection(scene)[names.SCULPT] == scene.riseline.sculpt
    assert len([one for one in bpy.data.collections if names.OWN in one]) == 1


def test_a_group_is_copied_to_the_last_row(two):
    scene, _, _ = two
    target = scene.riseline_parked.add()
    copy_group(scene.riseline, target)
    found, copied = scene.riseline.results, target.results
    assert [one.name for one in copied.parts] == [one.name for one in found.parts]
    assert [tuple(one.at_mm) for one in copied.warnings] == [
        tuple(one.at_mm) for one in found.warnings
    ]
    assert copied.used_settings == found.used_settings


def test_each_piece_keeps_its_own_views_and_its_place_on_the_tour(two):
    scene, scan, box = two
    scene.riseline.show_parts, scene.riseline.tour, scene.riseline.measured = False, 3, "width"
    scene.riseline.scan.width_mm = 80.0
    bpy.ops.riseline.work_on(name=scan.name)
    assert (scene.riseline.show_parts, scene.riseline.tour) == (True, 0)
    assert (scene.riseline.measured, scene.riseline.scan.width_mm) == ("height", 0.0)
    scene.riseline.show_map = False
    bpy.ops.riseline.work_on(name=box.name)
    assert (scene.riseline.show_map, scene.riseline.tour) == (True, 3)
    assert (scene.riseline.measured, scene.riseline.scan.width_mm) == ("width", 80.0)
    for piece, parts, shown_map in ((scan, True, False), (box, False, True), (scan, True, False)):
        bpy.ops.riseline.work_on(name=piece.name)
        roles = {one[names.OWN]: one for one in own_objects(scene)}
        assert roles["base"].hide_viewport is not parts, piece.name
        assert roles["brush map"].hide_viewport is not shown_map, piece.name
    bpy.ops.riseline.work_on(name=box.name)  # a new one is measured anew, whatever this one was
    third = add("third", shapes.box((40, 30, 50)))
    bpy.ops.riseline.work_on(name=third.name)
    assert (scene.riseline.tour, scene.riseline.measured) == (0, "height")


def test_each_piece_stands_once_on_the_list_however_often_it_was_worked_on(two):
    scene, scan, box = two
    for piece in (scan, box, scan, scan, box):
        bpy.ops.riseline.work_on(name=piece.name)
        assert sorted(one.name for one in pieces(scene)) == ["box", "mushroom"]
        assert len(scene.riseline_parked) == 1


def test_the_piece_that_is_worked_on_is_selected_alone_and_no_part_of_a_layout_is_one(two):
    scene, scan, box = two
    box.select_set(state=True)
    bpy.ops.riseline.work_on(name=scan.name)
    assert [one.name for one in bpy.context.selected_objects] == [scan.name]
    assert bpy.context.view_layer.objects.active == scan
    case = next(one for one in own_objects(scene) if one[names.OWN] == "case")
    assert bpy.ops.riseline.work_on(name=case.name) == {"CANCELLED"}
    assert scene.riseline.piece == scan
