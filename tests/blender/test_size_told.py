"""The size of a piece, told before anything runs, by what is typed or clicked on."""

from __future__ import annotations

import bpy
import numpy as np
import pytest

from blender_addon.bridge.preview import preview
from blender_addon.ui import ids
from tests import shapes

from .conftest import add, told_size
from .drawn import drawn


@pytest.mark.parametrize(
    ("measured", "expected"),
    [("height", (60.0, 80.0, 120.0)), ("width", (120.0, 160.0, 240.0)), ("depth", (90, 120, 180))],
)
def test_the_size_is_told_before_anything_runs_and_is_what_comes_out(scene, measured, expected):
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    scene.riseline.measured = measured
    setattr(scene.riseline.scan, measured, 0.12)
    assert told_size(scene, box).size_mm == pytest.approx(expected, rel=1e-5)
    scene.riseline.bubbles.pitch_mm = 4.0
    bpy.ops.riseline.lay_out()
    assert tuple(scene.riseline.results.scan_size_mm) == pytest.approx(expected, rel=1e-5)


def test_the_axis_and_the_turn_of_the_object_count_for_the_size(scene):
    box = add("box", shapes.box((30, 40, 60)))
    scene.riseline.scan.up = "+x"
    assert told_size(scene, box).size_mm == pytest.approx((60.0, 40.0, 30.0), rel=1e-5)
    box.rotation_euler = (0.0, np.pi / 2.0, 0.0)
    bpy.context.view_layer.update()
    assert told_size(scene, box).size_mm[2] == pytest.approx(60.0, rel=1e-5)


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
    assert told_size(scene, box).size_mm[2] == pytest.approx(high, rel=1e-5)
    assert told_size(scene, box).scan_mm[2] == pytest.approx(60000.0, rel=1e-5)
    units = scene.unit_settings
    assert (units.system, units.length_unit) == shows
    scene.riseline.scan.up = "+x"  # another way up, and the numbers are still the same unit
    assert told_size(scene, box).size_mm[2] == pytest.approx(high / 2.0, rel=1e-5)
    assert [tuple(one.co) for one in box.data.vertices] == corners
    bpy.ops.riseline.take_unit(unit="unsaid")
    assert told_size(scene, box).size_mm[2] == pytest.approx(30000.0, rel=1e-5)


def test_a_unit_means_the_same_whatever_the_unit_of_the_scene(scene):
    scene.unit_settings.scale_length = 0.001  # one is a millimetre
    box = add("box", shapes.box((30, 40, 60)), units_per_mm=1.0)
    bpy.ops.riseline.take_unit(unit="inches")
    assert told_size(scene, box).size_mm[2] == pytest.approx(60 * 25.4, rel=1e-5)


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
    assert told_size(scene, box) is None
    assert "keep the one that was measured best" in preview.trouble
    said = " ".join(drawn()["MoldPanel"].words)
    assert "keep the one that was" in said
    assert "Width (Scan) and Height (Scan)" in said
    assert "_mm" not in said
    scene.riseline.scan.width_mm = 0.0
    assert told_size(scene, box).size_mm[2] == pytest.approx(50.0)
    assert preview.trouble == ""


def test_another_measure_forgets_the_one_before(scene):
    scene.riseline.scan.height = 0.1
    scene.riseline.measured = "width"
    assert scene.riseline.scan.height_mm == 0.0
    scene.riseline.scan.width = 0.05
    assert scene.riseline.scan.width_mm == pytest.approx(50.0)
