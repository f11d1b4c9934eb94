"""From a file to the last look: the size told beforehand, one next step, views on and off."""

from __future__ import annotations

import itertools
import json
import types

import bpy
import numpy as np
import pytest
from mathutils import Vector

from blender_addon.bridge import attributes, names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.place import boxes_of
from blender_addon.bridge.preview import preview
from blender_addon.bridge.samples import SAMPLES, sample_file
from blender_addon.bridge.views import SWITCHES
from blender_addon.core.files.write import write_stl
from blender_addon.ui import ids
from blender_addon.ui.next_step import next_step
from blender_addon.ui.pages import page_file
from blender_addon.ui.registration import CLASSES
from blender_addon.ui.tour import STOPS
from tests import shapes

from .conftest import add, mushroom, own
from .drawn import drawn


def _step():
    return next_step(bpy.context)


def _size(scene, thing):
    return preview.size_of(scene, thing, lambda: None)


@pytest.mark.parametrize(
    ("measured", "expected"),
    [("height", (60.0, 80.0, 120.0)), ("width", (120.0, 160.0, 240.0)), ("depth", (90, 120, 180))],
)
def test_the_size_is_told_before_anything_runs_and_is_what_comes_out(scene, measured, expected):
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    scene.riseline.measured = measured
    setattr(scene.riseline.scan, measured, 0.12)
    assert _size(scene, box).size_mm == pytest.approx(expected, rel=1e-5)
    scene.riseline.bubbles.pitch_mm = 4.0
    bpy.ops.riseline.lay_out()
    assert tuple(scene.riseline.results.scan_size_mm) == pytest.approx(expected, rel=1e-5)


def test_the_axis_and_the_turn_of_the_object_count_for_the_size(scene):
    box = add("box", shapes.box((30, 40, 60)))
    scene.riseline.scan.up = "+x"
    assert _size(scene, box).size_mm == pytest.approx((60.0, 40.0, 30.0), rel=1e-5)
    box.rotation_euler = (0.0, np.pi / 2.0, 0.0)
    bpy.context.view_layer.update()
    assert _size(scene, box).size_mm[2] == pytest.approx(60.0, rel=1e-5)


@pytest.mark.parametrize(
    ("unit", "high", "shows"),
    [  # what one is in millimetres: NIST SP 811, appendix B
        ("inches", 60 * 25.4, ("IMPERIAL", "INCHES")),
        ("millimeters", 60.0, ("METRIC", "MILLIMETERS")),
        ("centimeters", 600.0, ("METRIC", "MILLIMETERS")),
    ],
)
def test_one_click_says_what_the_numbers_of_a_scan_are_and_it_comes_out_so(
    scene, unit, high, shows
):
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    corners = [tuple(one.co) for one in box.data.vertices]
    scene.unit_settings.length_unit = "METERS"
    assert bpy.ops.riseline.take_unit(unit=unit) == {"FINISHED"}
    assert _size(scene, box).size_mm[2] == pytest.approx(high, rel=1e-5)
    assert _size(scene, box).scan_mm[2] == pytest.approx(60000.0, rel=1e-5)
    units = scene.unit_settings
    assert (units.system, units.length_unit) == shows
    scene.riseline.scan.up = "+x"  # another way up, and the numbers are still the same unit
    assert _size(scene, box).size_mm[2] == pytest.approx(high / 2.0, rel=1e-5)
    assert [tuple(one.co) for one in box.data.vertices] == corners
    bpy.ops.riseline.take_unit(unit="unsaid")
    assert _size(scene, box).size_mm[2] == pytest.approx(30000.0, rel=1e-5)


def test_a_unit_means_the_same_whatever_the_unit_of_the_scene(scene):
    scene.unit_settings.scale_length = 0.001  # one is a millimetre
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    bpy.ops.riseline.take_unit(unit="inches")
    assert _size(scene, box).size_mm[2] == pytest.approx(60 * 25.4, rel=1e-5)


def test_the_unit_of_one_scan_is_not_taken_over_for_the_next(scene):
    add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    bpy.ops.riseline.work_on(name="box")
    bpy.ops.riseline.take_unit(unit="inches")
    add("other", shapes.box((30, 40, 60)))
    bpy.ops.riseline.work_on(name="other")
    assert scene.riseline.scan.scale == 1.0
    bpy.ops.riseline.work_on(name="box")
    assert scene.riseline.scan.scale == pytest.approx(0.0254)


def test_a_giant_is_offered_as_what_it_may_be_and_each_button_takes_that_unit(scene):
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=0.1)  # 6 units high: 6 m
    bpy.ops.riseline.work_on(name=box.name)
    buttons = [one for one in drawn()["MoldPanel"].buttons if one.name == ids.TAKE_UNIT]
    # 6 mm is too small to be meant, 60 mm and 152.4 mm may be, 6 m is no piece to mold
    assert [(one.text, one.told.unit) for one in buttons] == [
        ("Centimeters: 60.0 mm tall", "centimeters"), ("Inches: 152.4 mm tall", "inches"),
    ]  # fmt: skip
    scene.riseline.scan.height_mm = 70.0
    words = drawn()["MoldPanel"].words
    assert "It will be 70.0 mm tall" in words
    assert "35.0 \N{MULTIPLICATION SIGN} 46.7 \N{MULTIPLICATION SIGN} 70.0 mm" in words


def test_a_piece_that_cannot_be_measured_says_why_until_it_can(scene):
    box = add("box", shapes.box((30, 40, 60)))
    bpy.ops.riseline.work_on(name=box.name)
    scene.riseline.scan.height_mm = scene.riseline.scan.width_mm = 50.0
    assert _size(scene, box) is None
    assert "keep the one that was measured best" in preview.trouble
    assert "keep the one that was" in " ".join(drawn()["MoldPanel"].words)
    scene.riseline.scan.width_mm = 0.0
    assert _size(scene, box).size_mm[2] == pytest.approx(50.0)
    assert preview.trouble == ""


def test_no_scan_lies_beyond_sight_after_its_import(scene, tmp_path):
    assert scene.riseline.piece is None
    spaces = [a.spaces.active for a in bpy.context.window.screen.areas if a.type == "VIEW_3D"]
    write_stl(str(tmp_path / "giant.stl"), shapes.box((700, 700, 900)))
    assert bpy.ops.riseline.import_scan(filepath=str(tmp_path / "giant.stl")) == {"FINISHED"}
    assert spaces
    for space in spaces:  # from the eye to the far corner of a box seen from its middle
        assert space.clip_end > space.region_3d.view_distance + 1334.0 / 2.0


def test_another_measure_forgets_the_one_before(scene):
    scene.riseline.scan.height = 0.1
    scene.riseline.measured = "width"
    assert scene.riseline.scan.height_mm == 0.0
    scene.riseline.scan.width = 0.05
    assert scene.riseline.scan.width_mm == pytest.approx(50.0)


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


def test_the_next_step_leads_from_the_file_to_the_parts(scene, tmp_path):
    assert _step().operator == ids.IMPORT_SCAN
    thing = add("mushroom", mushroom())
    assert _step().operator == ids.IMPORT_SCAN  # the cube of a new file is no piece
    bpy.ops.riseline.work_on(name=thing.name)
    assert _step().operator == ids.LAY_OUT
    bpy.ops.riseline.lay_out()
    for stop in STOPS:
        assert (_step().operator, _step().text) == (ids.NEXT_STOP, stop.text)
        bpy.ops.riseline.next_stop()
    assert _step().operator == ids.EXPORT_PARTS
    scene.riseline.resin.shell_mm = 4.0
    assert (_step().operator, _step().text) == (ids.LAY_OUT, "Update Resin")
    bpy.ops.riseline.lay_out()
    assert _step().operator == ids.EXPORT_PARTS
    folder = tmp_path / "mold"
    bpy.ops.riseline.export_parts(filepath=str(folder))
    assert (_step().operator, _step().told) == (ids.OPEN_PATH, {"filepath": str(folder)})
    bpy.ops.riseline.lay_out(afresh=True)
    assert _step().operator == ids.EXPORT_PARTS  # what is in the folder is the mold of before
    thing.select_set(state=False)
    other = add("other", mushroom())
    assert (_step().operator, _step().told) == (ids.WORK_ON, {"name": "other"})
    bpy.ops.riseline.work_on(name=other.name)
    assert _step().operator == ids.LAY_OUT
    bpy.ops.riseline.work_on(name=thing.name)
    file = str(tmp_path / "mold.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert _step().text == "Lay Out Again to Export"


class _Heard:
    """A layout that only hears which page a question mark opens."""

    def __init__(self):
        self.pages = []

    def row(self, **_how):
        return self

    def label(self, **_how):
        pass

    def separator(self, **_how):
        pass

    def operator(self, name, **_how):
        heard = types.SimpleNamespace(page="")
        if name == ids.OPEN_HELP:
            self.pages.append(heard)
        return heard


@pytest.mark.usefixtures("scene")
def test_the_question_mark_of_each_panel_opens_the_page_of_that_name():
    heads = [one for one in CLASSES if hasattr(one, "draw_header_preset")]
    assert len(heads) == 11
    for panel in heads:
        heard = _Heard()
        drawn = types.SimpleNamespace(layout=heard, bl_idname=panel.bl_idname)
        panel.draw_header_preset(drawn, bpy.context)
        (opened,) = heard.pages
        title = page_file(opened.page).read_text(encoding="utf-8").splitlines()[0]
        assert title == ("# How it goes" if panel.bl_label == "Mold" else f"# {panel.bl_label}")


def test_who_got_into_another_mode_is_led_back_by_the_large_button(scene):
    thing = add("mushroom", mushroom())
    bpy.ops.riseline.work_on(name=thing.name)
    bpy.ops.object.mode_set(mode="EDIT")
    step = _step()
    assert step.text == "Back to Object Mode"
    group, name = step.operator.split(".")
    getattr(getattr(bpy.ops, group), name)(**step.told)
    assert (bpy.context.mode, _step().operator) == ("OBJECT", ids.LAY_OUT)
    assert scene.riseline.piece == thing


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


def _lying(scene):
    box = add("box", shapes.box((30, 40, 60)))
    box.rotation_euler = (0.4, 0.9, 0.2)
    scene.view_layers[0].update()
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.mesh.select_all(action="DESELECT")
    bpy.ops.object.mode_set(mode="OBJECT")
    return box


def _pick(box, faces=(), points=()):
    bpy.context.tool_settings.mesh_select_mode = (not faces, False, bool(faces))
    for number in faces:
        box.data.polygons[number].select = True
    for number in points:
        box.data.vertices[number].select = True
    bpy.ops.object.mode_set(mode="EDIT")


def _no_face(box, corners):
    """Return three of some corners that bound no face: with those of one, it is selected too."""
    faces = {frozenset(one.vertices) for one in box.data.polygons}
    picked = itertools.combinations(corners, 3)
    return next(three for three in picked if frozenset(three) not in faces)


def test_it_stands_on_the_points_that_were_picked_be_they_its_lowest_or_its_highest(scene):
    for own_z in (0.0, 0.06):
        box = _lying(scene)
        corners = [one.index for one in box.data.vertices if abs(one.co.z - own_z) < 1e-6]
        _pick(box, points=_no_face(box, corners))
        assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
        bpy.ops.object.mode_set(mode="OBJECT")
        heights = [(box.matrix_world @ one.co).z for one in box.data.vertices]
        below = sorted(range(len(heights)), key=heights.__getitem__)[:4]
        assert set(below) == set(corners)


@pytest.mark.usefixtures("scene")
def test_a_piece_that_is_stretched_stands_on_the_face_that_was_picked_all_the_same():
    thing = add("leaning", shapes.tilted(shapes.box((30, 40, 60)), 30.0))
    thing.scale = (1.0, 1.0, 3.0)
    bpy.context.view_layer.update()
    for kind in (thing.data.polygons, thing.data.vertices, thing.data.edges):
        kind.foreach_set("select", [False] * len(kind))
    face = next(one for one in thing.data.polygons if 0.3 < -one.normal.z < 0.95)
    corners = list(face.vertices)
    _pick(thing, faces=(face.index,))
    assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
    bpy.ops.object.mode_set(mode="OBJECT")
    bpy.context.view_layer.update()
    heights = [(thing.matrix_world @ thing.data.vertices[one].co).z for one in corners]
    assert max(heights) - min(heights) < 1e-5


@pytest.mark.parametrize("by", ["faces", "points"])
def test_the_piece_stands_on_what_was_picked(scene, by):
    box = _lying(scene)
    faces = [one.index for one in box.data.polygons if one.normal.z < -0.9]  # its own underside
    low = _no_face(box, [one.index for one in box.data.vertices if one.co.z < 1e-6])
    assert faces
    _pick(box, faces=faces if by == "faces" else (), points=low if by == "points" else ())
    assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
    bpy.ops.object.mode_set(mode="OBJECT")
    bpy.context.view_layer.update()
    assert (box.matrix_world.to_3x3() @ Vector((0, 0, 1))).z == pytest.approx(1.0, abs=1e-5)
    assert scene.riseline.scan.up == "+z"
    assert _size(scene, box).size_mm[2] == pytest.approx(60.0, rel=1e-4)


@pytest.mark.parametrize("points", [(), (0, 1)])
def test_too_little_picked_is_refused_and_turns_nothing(scene, points):
    box = _lying(scene)
    before = np.array(box.matrix_world)
    _pick(box, points=points)
    assert bpy.ops.riseline.stand_on_faces() == {"CANCELLED"}
    assert bpy.context.mode == "EDIT_MESH"
    assert np.array_equal(np.array(box.matrix_world), before)
    bpy.ops.object.mode_set(mode="OBJECT")


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_comes_with_its_settings_and_its_size(scene, name):
    assert sample_file(name).is_file()
    bpy.ops.riseline.open_sample(sample=name)
    piece = scene.riseline.piece
    assert piece.name == SAMPLES[name][0]
    size = _size(scene, piece)
    # the size of the sculpt itself: scanner dust beside it does not count
    known = json.loads(sample_file(name).with_suffix(".expected.json").read_text("utf-8"))
    expected = known["size_mm"]
    for found, number in zip(size.size_mm, expected["value"], strict=True):
        assert found == pytest.approx(number, abs=expected["tolerance"])
    assert _step().operator == ids.LAY_OUT


def test_a_preset_changes_what_depends_on_size_and_leaves_the_materials(scene):
    scene.riseline.rubber.density_kg_m3 = 1250.0
    bpy.ops.riseline.use_preset(preset="large")
    assert scene.riseline.case.least_rubber_mm == pytest.approx(18.0)
    assert scene.riseline.rubber.density_kg_m3 == pytest.approx(1250.0)
    bpy.ops.riseline.use_preset(preset="medium")
    assert scene.riseline.case.least_rubber_mm == pytest.approx(13.0)


def test_a_sample_beside_a_piece_leaves_the_settings_of_that_piece_alone(scene):
    piece = add("mushroom", mushroom())
    bpy.ops.riseline.work_on(name=piece.name)
    scene.riseline.resin.shell_mm, scene.riseline.rubber.spare_percent = 5.0, 17.0
    scene.riseline.scan.height_mm = 44.0
    bpy.ops.riseline.open_sample(sample="hedgehog.ply")
    assert scene.riseline.resin.shell_mm == pytest.approx(4.0)
    assert not scene.riseline.rubber.is_property_set("spare_percent")  # the sample names none
    bpy.ops.riseline.work_on(name=piece.name)
    assert scene.riseline.resin.shell_mm == pytest.approx(5.0)
    assert scene.riseline.rubber.spare_percent == pytest.approx(17.0)
    assert scene.riseline.scan.height_mm == pytest.approx(44.0)


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


def test_a_refused_file_is_one_line_and_changes_nothing(scene, tmp_path):
    (tmp_path / "bad.stl").write_bytes(b"solid nothing")
    before = len(bpy.data.objects)
    with pytest.raises(RuntimeError, match=r"bad\.stl") as raised:
        bpy.ops.riseline.import_scan(filepath=str(tmp_path / "bad.stl"))
    assert len(str(raised.value).strip().splitlines()) == 1
    assert len(bpy.data.objects) == before
    assert scene.riseline.piece is None


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
