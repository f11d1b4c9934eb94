"""A map of few faces for a fine scan: painted, marked, undone, saved and opened as any other."""

from __future__ import annotations

import bpy
import numpy as np
import pytest
import trimesh

from blender_addon.bridge import attributes, names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.bridge.paint import read_painted
from blender_addon.core.bubbles.paint import ADDED, ERASED
from blender_addon.core.constants import desk as limits
from blender_addon.core.desk.picture import unpacked
from tests import shapes

from . import snapshot
from .conftest import add, mushroom, own

ADD, TAKE_OFF, CLEAR = (
    bpy.ops.riseline.add_to_map, bpy.ops.riseline.take_off_map, bpy.ops.riseline.clear_paint,
)  # fmt: skip
MARK = bpy.ops.riseline.mark_not_here
WITH_UNDO = ("EXEC_DEFAULT", True)
MOST = 600


@pytest.fixture
def fine(scan, monkeypatch):
    """Return the scan, with anything over a few faces taken for a fine one."""
    monkeypatch.setattr(limits, "MOST_FACES_AS_GIVEN", 700)
    monkeypatch.setattr(limits, "MOST_FACES_SHOWN", MOST)
    return scan


@pytest.fixture
def scan(scene):
    """Return a mushroom of a few thousand triangles."""
    assert not scene.objects
    return add("mushroom", shapes.refined(mushroom()))


def _run(scene):
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    return kept.layout(scene.riseline.results.token)


def _map():
    return own(bpy.context.scene)["brush map"]


def _middles_mm():
    """Return where the middles of the faces of the map are, in the job's frame."""
    data, middles = _map().data, np.zeros(3 * len(_map().data.polygons), dtype=np.float32)
    data.polygons.foreach_get("center", middles)
    return middles.reshape(-1, 3).astype(float) * 1000.0


def _press(operator, chosen, *words):
    """Select faces of the map in Edit Mode and press a button."""
    thing = _map()
    bpy.ops.object.select_all(action="DESELECT")
    bpy.context.view_layer.objects.active = thing
    bpy.context.tool_settings.mesh_select_mode = (False, False, True)
    thing.data.polygons.foreach_set("select", np.array(chosen))
    bpy.ops.object.mode_set(mode="EDIT")
    assert operator(*words) == {"FINISHED"}
    bpy.ops.object.mode_set(mode="OBJECT")


def _on_scan(scene, layout):
    """Return paint and marks by the triangles of the scan, as the next run will be given them."""
    painted, count = read_painted(scene), layout.scan.triangles
    paint, barred = np.zeros(count, dtype=int), np.zeros(count, dtype=bool)
    given = painted.source >= 0
    paint[painted.source[given]] = painted.paint[given]
    barred[painted.source[given & painted.not_here]] = True
    return paint, barred


def _stood_for(chosen):
    """Return which triangles of the scan the chosen faces of the map stand for."""
    data = _map().data
    source = attributes.read(data, names.SOURCE_FACE)[chosen]
    return np.isin(unpacked(data[names.STANDS], np.int32), source[source >= 0])


def test_a_fine_scan_is_shown_by_fewer_faces_and_computed_in_full(scene, fine):
    before, layout = snapshot.of_object(fine), _run(scene)
    assert 0.5 * MOST < len(_map().data.polygons) <= MOST
    assert _map().data == own(scene)["master"].data
    assert len(layout.case.master.faces) >= len(fine.data.polygons)
    assert layout.bubbles.trapped_ml > 0.0
    assert snapshot.of_object(fine) == before
    shown = attributes.read(_map().data, names.TRAPPED)
    middles = _middles_mm()
    assert shown.any()
    roof_mm = middles[shown][:, 2] - layout.scan.riser_mm
    assert ((roof_mm > 35.0) & (roof_mm < 49.0)).all()  # under the brim, within a cell of it


@pytest.mark.usefixtures("scan")
def test_a_small_scan_keeps_every_face_and_nothing_is_packed(scene):
    layout = _run(scene)
    assert len(_map().data.polygons) == len(layout.case.master.faces)
    assert names.STANDS not in _map().data


@pytest.mark.usefixtures("fine")
def test_painted_faces_paint_every_triangle_that_they_stand_for_and_no_other(scene):
    layout = _run(scene)
    top = _middles_mm()[:, 2] > layout.scan.riser_mm + 50.0
    trapped = attributes.read(_map().data, names.TRAPPED)
    _press(ADD, top)
    _press(TAKE_OFF, trapped)
    assert outdated_stages(scene) == ("bubbles", "rubber")
    wanted = ADDED * _stood_for(top) + ERASED * _stood_for(trapped)
    assert (wanted == ADDED).any()
    assert (wanted == ERASED).any()
    for again in (False, True, True):
        if again:
            after = _run(scene)
            source = after.scan.source_faces
            given = source >= 0
            assert after.bubbles.prebrush[given][wanted[source[given]] == ADDED].all()
            assert not after.bubbles.prebrush[given][wanted[source[given]] == ERASED].any()
            assert after.case is layout.case
        assert np.array_equal(_on_scan(scene, layout)[0], wanted)
        shown = attributes.read(_map().data, names.PAINT)
        assert (shown[top] == ADDED).all()
        assert not (shown[~top] == ADDED).any()
        assert (attributes.read(_map().data, names.PREBRUSH)[top]).all()
    _press(CLEAR, np.ones(len(top), dtype=bool))
    assert not _on_scan(scene, layout)[0].any()
    assert np.array_equal(_run(scene).bubbles.prebrush, layout.bubbles.prebrush)


@pytest.mark.usefixtures("fine")
def test_marks_bar_the_cut_from_every_triangle_that_the_faces_stand_for(scene, tmp_path):
    layout = _run(scene)
    x, y, _ = (_middles_mm() - layout.cut.slit_mm[0]).T
    near = np.hypot(x, y) < 9.0
    wanted = _stood_for(near)
    assert wanted.any()
    _press(MARK, near)
    assert outdated_stages(scene)[0] == "cut"
    for _ in range(2):
        after = _run(scene)
        assert np.array_equal(_on_scan(scene, layout)[1], wanted)
        assert np.array_equal(attributes.read(_map().data, names.NOT_HERE), near)
    assert np.hypot(*(after.cut.slit_mm[0] - layout.cut.slit_mm[0])[:2]) > 5.0
    folder = tmp_path / "run"
    assert bpy.ops.riseline.write_command_files(filepath=str(folder)) == {"FINISHED"}
    words = (folder / "command.txt").read_text().split()
    barred = trimesh.load(folder / words[words.index("--no-cut-here") + 1], process=False)
    assert len(barred.faces) == wanted.sum()


@pytest.mark.usefixtures("fine")
def test_one_undo_takes_a_stroke_back_from_the_scan_too(scene):
    layout = _run(scene)
    bpy.ops.object.select_all(action="DESELECT")
    thing = _map()
    bpy.context.view_layer.objects.active = thing
    thing.data.polygons.foreach_set("select", np.ones(len(thing.data.polygons), dtype=bool))
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.ed.undo_push(message="before")
    assert ADD(*WITH_UNDO) == {"FINISHED"}
    bpy.ops.ed.undo()
    bpy.ops.object.mode_set(mode="OBJECT")
    assert not _on_scan(bpy.context.scene, layout)[0].any()
    bpy.ops.ed.redo()
    if bpy.context.mode == "EDIT_MESH":
        bpy.ops.object.mode_set(mode="OBJECT")
    assert _on_scan(bpy.context.scene, layout)[0].any()


@pytest.mark.usefixtures("fine")
def test_a_file_opens_with_its_paint_and_can_be_painted_on(scene, tmp_path):
    layout = _run(scene)
    top = _middles_mm()[:, 2] > layout.scan.riser_mm + 50.0
    _press(ADD, top)
    wanted = _on_scan(scene, layout)[0]
    file = tmp_path / "mushroom.blend"
    bpy.ops.wm.save_as_mainfile(filepath=str(file))
    bpy.ops.wm.open_mainfile(filepath=str(file))
    scene = bpy.context.scene
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)
    below = _middles_mm()[:, 2] < layout.scan.riser_mm + 30.0
    _press(ADD, below)
    wanted = wanted | _stood_for(below)
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)
    bpy.context.view_layer.objects.active = scene.objects["mushroom"]
    _run(scene)
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)


def test_paint_of_a_map_with_every_face_comes_onto_a_lighter_one_as_fine_as_it_was(
    scene, scan, monkeypatch
):
    """A file of a version that knew no lighter map has one with every face."""
    layout = _run(scene)
    count = len(_map().data.polygons)
    one_in_five = np.arange(count) % 5 == 0
    _press(ADD, one_in_five)
    wanted = _on_scan(scene, layout)[0]
    assert 0 < (wanted == ADDED).sum() < 0.3 * count
    monkeypatch.setattr(limits, "MOST_FACES_AS_GIVEN", 700)
    monkeypatch.setattr(limits, "MOST_FACES_SHOWN", MOST)
    bpy.context.view_layer.objects.active = scan
    kept.start_afresh()
    _run(scene)
    assert len(_map().data.polygons) <= MOST
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)
    some = np.arange(len(_map().data.polygons)) % 7 == 0
    _press(ADD, some)  # all that these stand for, and nothing of the others
    wanted[_stood_for(some)] = ADDED
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)
    monkeypatch.setattr(limits, "MOST_FACES_AS_GIVEN", count)  # and back
    kept.start_afresh()
    _run(scene)
    assert len(_map().data.polygons) == count
    assert np.array_equal(_on_scan(scene, layout)[0], wanted)


@pytest.mark.usefixtures("fine")
def test_faces_deleted_from_the_map_leave_the_paint_of_the_others_right(scene):
    layout = _run(scene)
    low = _middles_mm()[:, 2] < layout.scan.riser_mm + 20.0
    stood_for_low = _stood_for(low)
    bpy.ops.object.select_all(action="DESELECT")
    bpy.context.view_layer.objects.active = _map()
    bpy.context.tool_settings.mesh_select_mode = (False, False, True)
    _map().data.polygons.foreach_set("select", low)
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.mesh.delete(type="FACE")
    bpy.ops.object.mode_set(mode="OBJECT")
    left = np.ones(len(_map().data.polygons), dtype=bool)
    assert len(left) == (~low).sum()
    _press(ADD, left)
    in_master = np.isin(np.arange(layout.scan.triangles), layout.scan.source_faces)
    assert np.array_equal(_on_scan(scene, layout)[0] == ADDED, in_master & ~stood_for_low)
