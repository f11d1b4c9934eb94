"""A scan as it comes in: its size in the field, units of a ruler, and what makes one wait."""

from __future__ import annotations

import bpy
import pytest

from blender_addon.bridge.views import SWITCHES
from blender_addon.core.files.write import write_stl
from blender_addon.core.scan import warn
from blender_addon.ui.live import live
from blender_addon.ui.ruler import Ruler, ruler
from tests import shapes
from tests.blender.drawn import drawn

from .conftest import add

TOKEN = "of a layout that is not in memory"  # noqa: S105 - no secret
WIDE, DEEP, HIGH = 30.0, 40.0, 60.0


@pytest.fixture
def box(scene):
    """A box as a piece at work, in a scene of metres."""
    scene.unit_settings.length_unit = "METERS"
    thing = add("box", shapes.box((WIDE, DEEP, HIGH)))
    bpy.ops.riseline.work_on(name=thing.name)
    return thing


@pytest.mark.parametrize(("measured", "length"), [("height", HIGH), ("width", WIDE)])
def test_a_size_that_nobody_typed_shows_what_was_scanned_and_says_so(scene, box, measured, length):
    scene.riseline.measured = measured
    words = drawn()["MoldPanel"].words
    assert f"{measured.title()} as Scanned" in words
    assert f"It will be {HIGH} mm tall" in words
    shown, stored = scene.riseline.scan, f"{measured}_mm"
    assert getattr(shown, measured) == pytest.approx(length / 1000.0, rel=1e-5)
    assert getattr(shown, stored) == 0.0, "what is shown was taken for what somebody typed"
    setattr(shown, measured, 0.12)
    words = drawn()["MoldPanel"].words
    assert f"{measured.title()} as Scanned" not in words
    assert measured.title() in words
    assert getattr(shown, measured) == pytest.approx(0.12)
    setattr(shown, measured, 0.0)
    assert f"{measured.title()} as Scanned" in drawn()["MoldPanel"].words
    assert getattr(shown, measured) == pytest.approx(length / 1000.0, rel=1e-5)
    assert box.dimensions.z == pytest.approx(HIGH / 1000.0)


def test_the_size_of_one_piece_stands_in_no_field_of_another(scene, box):
    drawn()
    add("other", shapes.box((15.0, 20.0, 25.0)))
    bpy.ops.riseline.work_on(name="other")
    drawn()
    assert scene.riseline.scan.height == pytest.approx(0.025, rel=1e-5)
    bpy.ops.riseline.work_on(name=box.name)
    drawn()
    assert scene.riseline.scan.height == pytest.approx(HIGH / 1000.0, rel=1e-5)


def test_a_scan_that_is_measured_in_edit_mode_keeps_its_size_in_the_field(scene, box):
    drawn()
    bpy.ops.object.mode_set(mode="EDIT")
    words = drawn()["MoldPanel"].words
    assert "Height as Scanned" in words
    assert scene.riseline.scan.height == pytest.approx(HIGH / 1000.0, rel=1e-5)
    bpy.ops.object.mode_set(mode="OBJECT")
    scene.riseline.scan.height = 0.12
    drawn()
    bpy.ops.object.mode_set(mode="EDIT")
    scene.riseline.scan.height = 0.0
    assert "Height" in drawn()["MoldPanel"].words
    assert scene.riseline.scan.height == 0.0, "what was typed stands there as scanned"
    assert box.mode == "EDIT"
    bpy.ops.object.mode_set(mode="OBJECT")


@pytest.mark.parametrize(
    ("system", "before", "after"),
    [
        ("METRIC", "METERS", "MILLIMETERS"),
        ("IMPERIAL", "FEET", "INCHES"),
        ("METRIC", "CENTIMETERS", "CENTIMETERS"),  # somebody chose it
        ("IMPERIAL", "THOU", "THOU"),
        ("METRIC", "ADAPTIVE", "ADAPTIVE"),
    ],
)
@pytest.mark.parametrize("way", ["import", "sample", "chosen"])
def test_a_piece_that_comes_in_is_read_in_units_of_a_ruler(
    scene, tmp_path, system, before, after, way
):
    units = scene.unit_settings
    units.system, units.length_unit = system, before
    if way == "import":
        write_stl(str(tmp_path / "box.stl"), shapes.box((WIDE, DEEP, HIGH)))
        bpy.ops.riseline.import_scan(filepath=str(tmp_path / "box.stl"))
    elif way == "sample":
        bpy.ops.riseline.open_sample(sample="toadstool.ply")
    else:
        bpy.ops.riseline.work_on(name=add("box", shapes.box((WIDE, DEEP, HIGH))).name)
    assert (units.system, units.length_unit) == (system, after)
    offered = {one.name for one in drawn()["MoldPanel"].buttons}
    other = {"METRIC": "riseline.show_millimeters", "IMPERIAL": "riseline.show_inches"}[system]
    assert (other in offered) == (before == after)


def test_a_unit_that_was_chosen_later_stays_when_one_goes_back_to_a_piece(scene, box):
    add("other", shapes.box((15.0, 20.0, 25.0)))
    bpy.ops.riseline.work_on(name="other")
    scene.unit_settings.length_unit = "METERS"
    bpy.ops.riseline.work_on(name=box.name)
    assert scene.unit_settings.length_unit == "METERS"


def test_fields_go_over_to_inches_with_the_scene_and_to_what_is_chosen_after_that(scene, box):
    units, ruler = scene.unit_settings, Ruler()
    ruler.follow(bpy.context)
    units.system = "IMPERIAL"  # Blender takes feet with it
    assert units.length_unit == "FEET"
    ruler.follow(bpy.context)
    assert units.length_unit == "INCHES"
    assert "riseline.show_inches" not in {one.name for one in drawn()["MoldPanel"].buttons}
    units.length_unit = "FEET"
    ruler.follow(bpy.context)
    assert units.length_unit == "FEET"
    units.system = "METRIC"
    ruler.follow(bpy.context)
    assert units.length_unit == "MILLIMETERS"
    bpy.data.objects.remove(box)
    units.system = "IMPERIAL"
    ruler.follow(bpy.context)
    assert units.length_unit == "FEET"  # no piece, no word of ours


def test_another_scene_is_not_taken_for_a_change_of_units(scene, box):
    ruler, other = Ruler(), bpy.data.scenes.new("other")
    assert scene.riseline.piece == box
    other.unit_settings.system = "IMPERIAL"
    other.unit_settings.length_unit = "FEET"
    other.collection.objects.link(box)
    other.riseline.piece = box
    ruler.follow(bpy.context)
    with bpy.context.temp_override(scene=other):
        ruler.follow(bpy.context)
    assert other.unit_settings.length_unit == "FEET"


def _told_fine(panel):
    return [one for one in drawn()[panel].words if "million triangles" in one]


def test_a_very_fine_scan_says_before_the_wait_that_it_takes_minutes(scene, box, monkeypatch):
    assert not _told_fine("MoldPanel")
    monkeypatch.setattr(warn, "FINE_TRIANGLES", 11)  # a box of six squares has twelve
    assert len(_told_fine("MoldPanel")) == 1
    thinned = box.modifiers.new("Decimate", "DECIMATE")
    thinned.ratio = 0.6
    bpy.context.view_layer.update()
    assert not _told_fine("MoldPanel"), "it was thinned, and is still said to be fine"
    box.modifiers.remove(thinned)
    bpy.context.view_layer.update()
    assert len(_told_fine("MoldPanel")) == 1
    scene.riseline.results.token = TOKEN
    assert not _told_fine("MoldPanel")  # then it stands with the scan


def test_a_second_piece_is_seen_as_a_first_one_is_and_the_first_as_it_was_left(scene, box):
    stored = scene.riseline
    for key, (_, on, _) in SWITCHES.items():
        setattr(stored, f"show_{key}", not on)
    stored.rubber_level, stored.show_fill_curve = 40.0, True
    stored.shows_numbers = False  # how one likes to work: of the maker, not of the piece
    add("other", shapes.box((15.0, 20.0, 25.0)))
    bpy.ops.riseline.work_on(name="other")
    assert {key: getattr(stored, f"show_{key}") for key in SWITCHES} == {
        key: on for key, (_, on, _) in SWITCHES.items()
    }
    assert (stored.rubber_level, stored.show_fill_curve, stored.shows_numbers) == (
        0.0,
        False,
        False,
    )
    bpy.ops.riseline.work_on(name=box.name)
    assert [getattr(stored, f"show_{key}") for key in SWITCHES] == [
        not on for _, on, _ in SWITCHES.values()
    ]
    assert stored.rubber_level == pytest.approx(40.0)
    assert stored.show_fill_curve


@pytest.mark.parametrize(
    ("panel", "stage", "name", "label", "meant"),
    [
        ("RISELINE_PT_bubbles_settings", "bubbles", "pitch", "Column Pitch", "Auto"),
        ("RISELINE_PT_cut_settings", "cut", "tooth", "Tooth", "Auto"),
        ("RISELINE_PT_resin_data_sheet", "resin", "deepest_fill", "Deepest Fill", "By Class"),
        ("RISELINE_PT_case_settings", "case", "front", "Front", "None"),
    ],
)
def test_a_number_that_stands_for_none_says_what_it_means(scene, panel, stage, name, label, meant):
    group = getattr(scene.riseline, stage)
    assert f"{label}: {meant}" in drawn()[panel].words
    setattr(group, name, 0.004)
    words = drawn()[panel].words
    assert label in words
    assert f"{label}: {meant}" not in words


@pytest.mark.parametrize(("cups", "label"), [(1, "Pouring"), (3, "Pouring a Cup")])
def test_times_of_a_cup_are_told_as_such_where_there_are_more(scene, cups, label):
    found = scene.riseline.results
    found.token, found.rubber_budget_pour_s, found.rubber_pot_life_s = TOKEN, 60.0, 1800.0
    for number in range(cups):
        found.batches.add().a_g = 100.0 + number
    words = drawn()["RubberPanel"].words
    assert words[words.index(label) + 1] == "60 s"


def test_the_look_at_the_settings_looks_at_the_units_too(scene, box):
    ruler.follow(bpy.context)
    scene.unit_settings.system = "IMPERIAL"
    live.tick()
    assert scene.unit_settings.length_unit == "INCHES"
    assert scene.riseline.piece == box
