"""Settings in the scene are core's settings."""

from __future__ import annotations

import dataclasses

import bpy
import pytest

from blender_addon.bridge import user_files
from blender_addon.bridge.properties import STAGES, read_settings, setting_fields, shown_name
from blender_addon.core.fields import spec_of
from blender_addon.core.settings import Settings, as_tables


def test_a_new_scene_has_the_defaults_of_core_to_the_last_digit(scene):
    scene.riseline.property_unset("scan")
    scene.riseline.property_unset("bubbles")
    assert as_tables(read_settings(scene)) == as_tables(Settings())


def test_every_setting_of_core_is_there_with_label_reason_and_range(scene):
    count = 0
    for stage in STAGES:
        group = getattr(scene.riseline, stage)
        for field in setting_fields(stage):
            spec = spec_of(field)
            shown = group.bl_rna.properties[shown_name(field)]
            stored = group.bl_rna.properties[field.name]
            assert shown.name.startswith(spec.label)
            assert shown.description.lower() == spec.reason.lower()
            if isinstance(field.default, float):
                assert stored.hard_min == pytest.approx(spec.low, rel=1e-6)
                assert stored.hard_max == pytest.approx(spec.high, rel=1e-6)
            count += 1
    assert count == sum(len(dataclasses.fields(one)) for one in STAGES.values())


@pytest.mark.parametrize(
    ("scale", "typed"),
    [(1.0, 0.1524), (0.001, 152.4), (0.0254, 6.0)],  # metres, millimetres, inches (25.4 mm: SP 811)
)
def test_a_length_means_the_same_whatever_the_unit_of_the_scene(scene, scale, typed):
    scene.unit_settings.scale_length = scale
    scene.riseline.scan.height = typed
    assert read_settings(scene).scan.height_mm == pytest.approx(152.4, rel=1e-6)
    assert scene.riseline.scan.riser == pytest.approx(6.35 / 1000.0 / scale, rel=1e-6)


def test_an_angle_is_shown_in_radians_and_handed_on_in_degrees(scene):
    scene.riseline.bubbles.clinging = 0.5235987755982988  # a sixth of pi, 30 degrees
    assert read_settings(scene).bubbles.clinging_deg == pytest.approx(30.0, rel=1e-6)


@pytest.mark.parametrize(
    ("unit", "typed_m", "stored_mm"),
    [
        ("METERS", 152.0, 152.0),  # read off a ruler: no piece is 152 m high
        ("METERS", 0.152, 152.0),
        ("METERS", 2.0, 2000.0),  # two metres may be
        ("METERS", 5000.0, 3000.0),  # neither can be
        ("MILLIMETERS", 152.0, 3000.0),  # 152 000 typed where millimetres are shown
    ],
)
def test_a_number_beyond_its_range_is_taken_for_millimetres_in_a_scene_of_metres(
    scene, unit, typed_m, stored_mm
):
    scene.unit_settings.length_unit = unit
    scene.riseline.scan.height = typed_m
    assert read_settings(scene).scan.height_mm == pytest.approx(stored_mm)


def test_a_size_with_its_unit_beyond_its_range_stops_at_the_end_of_it(scene):
    scene.unit_settings.length_unit = "METERS"
    scene.riseline.parts.flange = bpy.utils.units.to_value("METRIC", "LENGTH", "800mm")
    assert read_settings(scene).parts.flange_mm == 60.0


@pytest.mark.parametrize(
    ("button", "system", "unit", "shown"),
    [
        ("show_millimeters", "METRIC", "MILLIMETERS", "6.35 mm"),
        ("show_inches", "IMPERIAL", "INCHES", '0.25"'),
    ],
)
def test_lengths_are_shown_small_and_no_size_changes(scene, button, system, unit, shown):
    scene.unit_settings.system, scene.unit_settings.length_unit = system, "ADAPTIVE"
    scene.riseline.scan.riser_mm = 6.35  # a quarter of an inch of 25.4 mm
    assert getattr(bpy.ops.riseline, button)() == {"FINISHED"}
    assert (scene.unit_settings.system, scene.unit_settings.length_unit) == (system, unit)
    assert scene.riseline.scan.riser_mm == pytest.approx(6.35)
    metres = scene.riseline.scan.riser
    assert bpy.utils.units.to_value(system, "LENGTH", shown) == pytest.approx(metres, rel=1e-6)


def test_feet_are_never_taken_for_millimetres(scene):
    units = scene.unit_settings
    units.system, units.length_unit = "IMPERIAL", "ADAPTIVE"
    scene.riseline.scan.height = 20.0 * 0.3048  # typed as 20': beyond any piece, NIST SP 811
    assert scene.riseline.scan.height_mm == 3000.0


def test_a_bare_one_is_one_millimetre_where_a_metre_cannot_be(scene):
    scene.unit_settings.length_unit = "METERS"
    scene.riseline.resin.shell = 1.0
    assert scene.riseline.resin.shell_mm == 1.0


def test_a_list_that_is_named_goes_before_the_one_that_is_kept(scene, tmp_path):
    user_files.write(user_files.TUBES, "name,outer_diameter_mm,inner_diameter_mm\nold,100,94\n")
    kept_list = str(user_files.path_of(user_files.TUBES))
    assert read_settings(scene).case.stock_file == kept_list
    named = str(tmp_path / "of_this_job.csv")
    scene.riseline.case.stock_file = named
    assert read_settings(scene).case.stock_file == named
