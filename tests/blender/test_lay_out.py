"""From a scan to a layout in the scene, by the operator."""

from __future__ import annotations

import bpy
import numpy as np
import pytest
from mathutils import Vector

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.mesh import read_raw
from blender_addon.bridge.place import boxes_of, eye_direction
from tests import shapes

from . import snapshot
from .conftest import TRAPPED_ML, add, mushroom, own

WITH_UNDO = ("EXEC_DEFAULT", True)
"""Operators that a script calls push no undo step unless told to."""


def _face_values(data, name):
    values = np.zeros(len(data.polygons), dtype=bool)
    data.attributes[name].data.foreach_get("value", values)
    return values


def test_the_scan_is_laid_out_in_one_collection_and_itself_untouched(scene, scan):
    scan.data.attributes.new("paint", "FLOAT_COLOR", "POINT")
    scan.data.materials.append(bpy.data.materials.new("clay"))
    before = snapshot.of_object(scan)
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    assert snapshot.of_object(scan) == before
    things = own(scene)
    assert {"master", "case", "base", "funnel", "slit"} <= set(things)
    for thing in things.values():
        assert [one.name for one in thing.users_collection] == [names.COLLECTION]
    # a ring of air of known volume under the brim: closed form
    assert scene.riseline.results.bubbles_trapped_ml == pytest.approx(TRAPPED_ML, rel=0.02)


@pytest.mark.usefixtures("scan")
def test_the_faces_of_the_brush_map_are_marked_as_core_says(scene):
    bpy.ops.riseline.lay_out()
    layout = kept.layout(scene.riseline.results.token)
    data = own(scene)["master"].data
    bubbles = layout.bubbles
    assert len(data.polygons) == len(layout.scan.mesh.faces)
    trapped = bubbles.trapped_depth_mm > 0.0
    assert trapped.any()
    for name, expected in [
        (names.TRAPPED, trapped),
        (names.CLINGING, bubbles.clinging),
        (names.NARROW, bubbles.narrow),
        (names.PREBRUSH, bubbles.prebrush),
    ]:
        assert np.array_equal(_face_values(data, name), expected)
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    data.polygons.foreach_get("material_index", slots)
    gravest = names.CLASSES.index("Trapped Air")
    assert np.array_equal(slots == gravest, trapped)
    assert len(data.materials) == len(names.CLASSES) + len(names.BANDS) + 1


def test_the_layout_has_its_true_size_and_stands_clear_of_the_scan(scene, scan):
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    results, things = scene.riseline.results, own(scene)
    # the mushroom is 60 mm high, whatever its place
    assert things["master"].dimensions.z == pytest.approx(0.060, rel=1e-5)
    assert things["case"].dimensions.z == pytest.approx(results.case_height_mm / 1000.0, abs=1e-5)
    of_scan = _corners(scan)
    corners = np.vstack([_corners(thing) for thing in things.values()])
    apart = np.maximum(
        of_scan.min(axis=0) - corners.max(axis=0), corners.min(axis=0) - of_scan.max(axis=0)
    )
    assert apart.max() > 0.1
    # the case stands with its floor on the scan's
    assert things["base"].matrix_world.translation.z == pytest.approx(0.1, abs=1e-6)


def test_the_brush_map_turns_its_underside_to_the_eye(scene, scan):
    scan.rotation_euler = (0.0, 0.0, 0.7)
    bpy.context.view_layer.update()
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    things = own(scene)
    assert things["brush map"].data is things["master"].data
    eye = eye_direction(kept.layout(scene.riseline.results.token))
    down = things["brush map"].matrix_world.to_3x3() @ Vector((0.0, 0.0, -1.0))
    assert down.dot(eye) == pytest.approx(1.0, abs=1e-6)
    case, hung = _corners(things["case"]), _corners(things["brush map"])
    sideways = np.cross([0.0, 0.0, 1.0], np.array(eye))
    assert (hung @ sideways).max() < (case @ sideways).min() or (hung @ sideways).min() > (
        case @ sideways
    ).max()


def _corners(thing):
    box = np.column_stack([np.array(thing.bound_box), np.ones(8)])
    return (box @ np.array(thing.matrix_world).T)[:, :3]


@pytest.mark.usefixtures("scan")
def test_laid_out_again_replaces_its_own_objects_and_nothing_else(scene):
    bpy.ops.riseline.lay_out()
    first = {one.name for one in scene.objects}
    collection = bpy.data.collections[names.COLLECTION]
    guest = bpy.data.objects.new("my own note", None)
    collection.objects.link(guest)
    bpy.data.materials.new("my own clay")
    recoloured = next(one for one in bpy.data.materials if one.get(names.OWN) == "Clinging")
    recoloured.diffuse_color = (0.1, 0.2, 0.3, 1.0)
    views = [a.spaces.active.region_3d for a in bpy.context.screen.areas if a.type == "VIEW_3D"]
    for view in views:
        view.view_location = (3.0, 2.0, 1.0)
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    assert views
    assert {tuple(view.view_location) for view in views} == {(3.0, 2.0, 1.0)}
    assert {one.name for one in scene.objects} == first | {"my own note"}
    assert [one.name for one in bpy.data.collections] == [names.COLLECTION]
    assert tuple(recoloured.diffuse_color) == pytest.approx((0.1, 0.2, 0.3, 1.0))
    assert len(bpy.data.meshes) == len(scene.objects) - 2  # none left behind; the note has none


@pytest.mark.usefixtures("scan")
def test_another_run_of_the_same_scan_runs_no_stage_twice(scene):
    bpy.ops.riseline.lay_out()
    first = kept.layout(scene.riseline.results.token)
    scene.riseline.resin.shell = 0.004
    bpy.ops.riseline.lay_out()
    second = kept.layout(scene.riseline.results.token)
    assert second.bubbles is first.bubbles
    assert second.resin is not first.resin


def test_the_layout_is_not_taken_for_a_scan(scene, scan):
    bpy.ops.riseline.lay_out()
    master = own(scene)["master"]
    scan.select_set(state=False)
    master.select_set(state=True)
    bpy.context.view_layer.objects.active = master
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    assert scene.riseline.results.source == "mushroom"


@pytest.mark.parametrize("scale", [1.0, 0.001])
def test_the_unit_of_the_scene_changes_no_size(scene, scale):
    scene.unit_settings.scale_length = scale
    add("mushroom", mushroom(), units_per_mm=0.001 / scale)
    bpy.ops.riseline.lay_out()
    results = scene.riseline.results
    assert results.scan_size_mm[2] == pytest.approx(60.0, rel=1e-5)
    assert results.bubbles_trapped_ml == pytest.approx(TRAPPED_ML, rel=0.02)
    assert own(scene)["master"].dimensions.z * scale == pytest.approx(0.060, rel=1e-5)


def test_a_scan_in_millimetres_taken_for_metres_is_asked_for_its_height(scene):
    add("mushroom", mushroom(), units_per_mm=1.0)
    before = snapshot.of_file()
    with pytest.raises(RuntimeError, match=r"(?i)height"):
        bpy.ops.riseline.lay_out()
    assert snapshot.of_file() == before
    scene.riseline.scan.height = 0.060
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    assert scene.riseline.results.bubbles_trapped_ml == pytest.approx(TRAPPED_ML, rel=0.02)


def test_scale_and_mirror_of_the_object_count(scene, scan):
    scan.scale = (-2.0, 2.0, 2.0)
    bpy.context.view_layer.update()
    bpy.ops.riseline.lay_out()
    results = scene.riseline.results
    assert results.scan_size_mm[2] == pytest.approx(120.0, rel=1e-5)
    assert results.bubbles_trapped_ml == pytest.approx(8.0 * TRAPPED_ML, rel=0.02)


def test_modifiers_of_the_object_count(scene, scan):
    finer = scan.modifiers.new("finer", "SUBSURF")
    finer.subdivision_type, finer.levels = "SIMPLE", 1
    bpy.context.view_layer.update()
    raw = read_raw(scene, scan, bpy.context.evaluated_depsgraph_get())
    # each triangle becomes three quads, of two triangles each
    assert len(raw.faces) == 6 * len(scan.data.polygons)


def test_the_place_of_a_piece_that_hangs_on_another_object_counts(scene):
    scene.riseline.bubbles.pitch_mm = 4.0
    scan = add("box", shapes.box((40, 30, 50)))
    holder = bpy.data.objects.new("turntable", None)
    scene.collection.objects.link(holder)
    holder.scale, holder.location.z = (1.5, 1.5, 1.5), 0.4
    scan.parent = holder
    bpy.context.view_layer.update()
    floor = boxes_of([scan])[0][0, 2]
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    assert scene.riseline.results.scan_size_mm[2] == pytest.approx(75.0, rel=1e-5)
    base = own(scene)["base"]
    assert base.matrix_world.translation.z == pytest.approx(floor, abs=1e-6)


@pytest.mark.usefixtures("scan")
def test_removing_the_layout_leaves_what_was_there_before():
    before = snapshot.of_file()
    bpy.ops.riseline.lay_out()
    assert snapshot.of_file() != before
    assert bpy.ops.riseline.remove_layout() == {"FINISHED"}
    assert snapshot.of_file() == before


def test_what_a_maker_made_of_the_layout_or_put_to_it_outlives_it(scene):
    clay = bpy.data.materials.new("my own clay")
    scene.riseline.bubbles.pitch_mm = 4.0
    add("box", shapes.box((40, 30, 50)))
    bpy.ops.riseline.lay_out()
    case = own(scene)["case"]
    mine = bpy.data.objects.new("my copy of the case", case.data)
    del case
    scene.collection.objects.link(mine)
    note = bpy.data.objects.new("my own note", None)
    bpy.data.collections[names.COLLECTION].objects.link(note)
    count = len(mine.data.polygons)
    for button in (bpy.ops.riseline.lay_out, bpy.ops.riseline.remove_layout):
        assert button() == {"FINISHED"}
        assert len(scene.objects["my copy of the case"].data.polygons) == count
        assert scene.objects["my own note"].name in bpy.data.collections[names.COLLECTION].objects
        assert clay.name in bpy.data.materials
    assert own(scene) == {}
    assert scene.riseline.piece is None  # it is asked for a scan again


def _plane():
    corners = [[0, 0, 0], [50, 0, 0], [50, 50, 0], [0, 50, 0]]
    return shapes.Mesh(corners, [[0, 1, 2], [0, 2, 3]])


def _with_nan(thing):
    thing.data.vertices[3].co = (float("nan"), 0.0, 0.0)


def _without_faces(thing):
    thing.data.clear_geometry()


@pytest.mark.parametrize(
    ("mesh", "spoil", "what"),
    [
        (_plane(), None, r"."),
        (mushroom(), _with_nan, r"no finite position"),
        (mushroom(), _without_faces, r"no faces"),
    ],
    ids=["single plane", "not a number", "no faces"],
)
@pytest.mark.usefixtures("scene")
def test_a_bad_mesh_gives_one_report_and_the_scene_stays(mesh, spoil, what):
    thing = add("bad", mesh)
    if spoil:
        spoil(thing)
    before = snapshot.of_file()
    with pytest.raises(RuntimeError, match=what) as raised:
        bpy.ops.riseline.lay_out()
    lines = str(raised.value).strip().splitlines()
    assert len(lines) == 1
    assert lines[0].startswith("Error: ")
    assert "Traceback" not in lines[0]
    assert kept.trouble in lines[0]
    assert snapshot.of_file() == before


@pytest.mark.usefixtures("scene")
def test_a_grey_button_says_why():
    with pytest.raises(RuntimeError, match="Select the scan of the piece first"):
        bpy.ops.riseline.lay_out()
    with pytest.raises(RuntimeError, match="Lay out the mold first"):
        bpy.ops.riseline.export_parts(filepath="anywhere")


@pytest.mark.usefixtures("scan")
def test_one_undo_takes_the_whole_layout_back_and_redo_brings_it(scene):
    bpy.ops.ed.undo_push(message="before")
    before = snapshot.of_file()
    bpy.ops.riseline.lay_out(*WITH_UNDO)
    token = scene.riseline.results.token
    after = snapshot.of_file()
    bpy.ops.ed.undo()
    assert snapshot.of_file() == before
    bpy.ops.ed.redo()
    assert snapshot.of_file() == after
    assert kept.layout(bpy.context.scene.riseline.results.token) is kept.layout(token)
    assert kept.layout(token) is not None
