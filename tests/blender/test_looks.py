"""What a view shows: scans and layouts clear of each other, switches, looks, the tour."""

from __future__ import annotations

import bpy
import numpy as np
import pytest
from mathutils import Vector

from blender_addon.bridge import attributes, names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.place import boxes_of
from blender_addon.bridge.views import SWITCHES
from blender_addon.core.files.write import write_stl
from blender_addon.ui.tour import STOPS
from tests import shapes

from .conftest import add, own


def test_no_scan_lies_beyond_sight_after_its_import(scene, tmp_path):
    assert scene.riseline.piece is None
    spaces = [a.spaces.active for a in bpy.context.window.screen.areas if a.type == "VIEW_3D"]
    write_stl(str(tmp_path / "giant.stl"), shapes.box((700, 700, 900)))
    assert bpy.ops.riseline.import_scan(filepath=str(tmp_path / "giant.stl")) == {"FINISHED"}
    assert spaces
    for space in spaces:  # from the eye to the far corner of a box seen from its middle
        assert space.clip_end > space.region_3d.view_distance + 1334.0 / 2.0


def test_a_new_scan_stands_clear_of_what_is_there_and_moves_none_of_it(scene, tmp_path):
    cube = add("cube", shapes.box((2000, 2000, 2000), (-1000, -1000, -1000)))
    before = tuple(cube.location)
    write_stl(str(tmp_path / "frog.stl"), shapes.box((0.12, 0.1, 0.15), (-0.06, -0.05, 0.0)))
    assert bpy.ops.riseline.import_scan(filepath=str(tmp_path / "frog.stl")) == {"FINISHED"}
    frog = bpy.context.view_layer.objects.active
    (low, high), (of_cube_low, of_cube_high) = boxes_of([frog, cube])
    assert (low > of_cube_high).any() or (high < of_cube_low).any()
    assert tuple(cube.location) == before
    assert scene.riseline.piece == frog
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    for thing in own(scene).values():
        low, high = boxes_of([thing])[0]
        assert (low > of_cube_high).any() or (high < of_cube_low).any(), thing.name


@pytest.mark.usefixtures("scan")
def test_each_switch_shows_and_hides_what_it_names(scene):
    bpy.ops.riseline.lay_out()
    roles = {
        "map": names.MAP_ROLE, "air": names.AIR_ROLE, "case": "case", "cut": names.SLIT_ROLE,
        "parts": "base", "rubber": names.RUBBER_ROLE,
        "stream": names.STREAM_ROLE,
    }  # fmt: skip
    scene.riseline.rubber_level = 5.0
    for key, role in roles.items():
        for on in (True, False, True):
            setattr(scene.riseline, f"show_{key}", on)
            assert own(scene)[role].hide_viewport is not on, key
            assert own(scene)[role].hide_render is not on, key
    assert set(roles) | {"thickness", "xray"} == set(SWITCHES)
    scene.riseline.show_stream = False
    bpy.ops.riseline.lay_out()
    assert own(scene)[names.STREAM_ROLE].hide_viewport  # a switch holds through a run
    case = own(scene)["case"]
    scene.riseline.show_xray = False
    assert case.data.materials[0].diffuse_color[3] == pytest.approx(1.0)
    scene.riseline.show_xray = True
    assert case.data.materials[0].diffuse_color[3] < 0.5


@pytest.mark.usefixtures("scan")
def test_the_colours_of_thickness_are_the_distance_to_the_wall_and_the_map_comes_back(scene):
    bpy.ops.riseline.lay_out()
    data = own(scene)[names.MASTER_ROLE].data

    def slots():
        found = np.zeros(len(data.polygons), dtype=np.int32)
        data.polygons.foreach_get("material_index", found)
        return found

    of_map = slots()
    layout = kept.layout(scene.riseline.results.token)
    middles = layout.case.master.corners.mean(axis=1)
    # a round case about the axis: its radius less the distance from the axis
    radius_mm = layout.case.inner_diameter_mm / 2.0
    expected = radius_mm - np.hypot(middles[:, 0], middles[:, 1])
    assert attributes.read(data, names.RUBBER_MM) == pytest.approx(expected, abs=0.01)
    scene.riseline.show_thickness = True
    scene.riseline.show_map = False
    assert not own(scene)[names.MAP_ROLE].hide_viewport  # it bears these colours as well
    scene.riseline.show_map = True
    least = layout.settings.case.least_rubber_mm
    thin = slots() == len(names.CLASSES)
    assert np.array_equal(thin, attributes.read(data, names.RUBBER_MM) < least)
    scene.riseline.show_thickness = False
    assert np.array_equal(slots(), of_map)
    scene.riseline.show_map = False
    assert not slots().any()


@pytest.mark.usefixtures("scan")
def test_look_from_below_turns_the_underside_to_the_eye(scene):
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    bpy.ops.riseline.look_from_below()
    window = bpy.context.window_manager.windows[0]
    area = next(one for one in window.screen.areas if one.type == "VIEW_3D")
    eye = area.spaces.active.region_3d.view_rotation @ Vector((0.0, 0.0, 1.0))
    down = own(scene)[names.MAP_ROLE].matrix_world.to_3x3() @ Vector((0.0, 0.0, -1.0))
    assert eye.dot(down) == pytest.approx(1.0, abs=1e-5)


LOOKS = {
    "from below": lambda _: bpy.ops.riseline.look_from_below(),
    "the place of a warning": lambda _: bpy.ops.riseline.show_place(at_mm=(10.0, 0.0, 30.0)),
    "a pocket": lambda scene: setattr(scene.riseline.results, "pocket_row", 0),
    "each stop": lambda _: [bpy.ops.riseline.next_stop() for _ in STOPS],
}


@pytest.mark.parametrize("looks", LOOKS.values(), ids=LOOKS)
def test_what_is_shown_is_not_looked_at_from_endlessly_far_through_a_scan(scene, scan, looks):
    assert scan is not None
    window = bpy.context.window_manager.windows[0]
    area = next(one for one in window.screen.areas if one.type == "VIEW_3D")
    view = area.spaces.active.region_3d
    view.view_perspective = "ORTHO"
    bpy.ops.riseline.lay_out()
    assert view.view_perspective == "PERSP"
    bpy.context.view_layer.update()
    view.view_perspective = "ORTHO"
    with bpy.context.temp_override(window=window, area=area):
        looks(scene)
    assert view.view_perspective == "PERSP"


@pytest.mark.usefixtures("scan")
def test_back_on_the_tour_shows_the_look_before_and_leaves_the_x_ray_alone(scene):
    stored = scene.riseline
    stored.results.token = "hand"  # noqa: S105 - no password
    assert stored.show_xray
    for _ in range(3):
        bpy.ops.riseline.next_stop()
    assert stored.tour == 3
    bpy.ops.riseline.next_stop(back=True)
    assert stored.tour == 2
    assert [key for key in SWITCHES if key != "xray" and getattr(stored, f"show_{key}")] == [
        key for key in SWITCHES if key in STOPS[1].shows
    ]
    assert stored.show_xray
    for _ in range(len(STOPS)):
        bpy.ops.riseline.next_stop()
    assert stored.tour == 2  # after the last look it begins again


def _stands_at(scene):
    return own(scene)[names.MASTER_ROLE].matrix_world.translation.copy()


def test_another_case_stands_where_the_last_one_stood_while_the_scan_does(scene, scan):
    bpy.ops.riseline.lay_out()
    first = _stands_at(scene)
    scene.riseline.case.kind = "printed contour"
    scene.riseline.case.front_deg = 90.0  # turns the case, and so where one looks from
    bpy.ops.riseline.lay_out()
    assert (_stands_at(scene) - first).length < 1e-6
    thing = add("in the way", shapes.box((40, 40, 40)))
    thing.location = first
    bpy.context.view_layer.objects.active = scan
    bpy.ops.riseline.lay_out()
    assert (_stands_at(scene) - first).length > 0.04
    bpy.data.objects.remove(thing)
    scan.location.x += 1.0
    bpy.context.view_layer.update()
    bpy.ops.riseline.lay_out()
    assert (_stands_at(scene) - first).length > 0.5
