"""A file that the first version saved: its settings, numbers, objects and piece are all there.

tests/reference/first_version.blend was written by the first commit that had a change log, in
Blender 4.5: the mushroom of these tests, laid out with a riser of 7 mm and a shell of 2.5 mm. The
first version then told 779.358 g of rubber and 10.024 ml of trapped air.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import bpy
import pytest

from blender_addon.bridge import names
from blender_addon.bridge.migrate import FORM, migrate
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.bridge.sculpts import piece_of
from blender_addon.bridge.show import own_collection

from .conftest import own

FILE = Path(__file__).resolve().parents[1] / "reference" / "first_version.blend"


@pytest.fixture
def opened(scene, tmp_path):
    assert scene is not None
    bpy.ops.wm.open_mainfile(filepath=str(shutil.copy(FILE, tmp_path / "old.blend")))
    return bpy.context.scene


def test_everything_of_the_first_version_is_there(opened):
    found = opened.riseline.results
    assert found.rubber_mass_g == pytest.approx(779.358, abs=0.01)
    assert found.bubbles_trapped_ml == pytest.approx(10.024, abs=0.001)
    assert opened.riseline.scan.riser_mm == pytest.approx(7.0)
    assert opened.riseline.resin.shell_mm == pytest.approx(2.5)
    assert piece_of(opened).name == "mushroom"
    assert opened.riseline.form == FORM
    assert own_collection(opened)[names.SCULPT] == opened.riseline.sculpt
    assert {"master", "brush map", "case", "base", "funnel", "slit"} <= set(own(opened))
    assert outdated_stages(opened) == ()


def test_its_views_switch_and_it_runs_again_in_place(opened):
    opened.riseline.show_case = False
    assert own(opened)["case"].hide_viewport
    opened.riseline.show_thickness = True  # the old map does not know it: nothing is coloured wrong
    before = own_collection(opened)
    bpy.ops.riseline.lay_out()
    assert own_collection(opened) == before
    assert opened.riseline.results.scan_size_mm[2] == pytest.approx(60.0, rel=1e-4)
    assert opened.riseline.results.used_settings


def test_a_file_of_this_version_is_left_as_it_is(opened, tmp_path):
    bpy.ops.riseline.lay_out()
    sculpt = opened.riseline.sculpt
    file = str(tmp_path / "new.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert bpy.context.scene.riseline.sculpt == sculpt


@pytest.mark.parametrize("measured", ["width", "depth"])
def test_a_size_that_was_measured_across_is_still_the_one_that_is_asked_for(opened, measured):
    stored = opened.riseline
    stored.form, stored.piece = 0, None
    stored.scan.height_mm = 0.0
    setattr(stored.scan, f"{measured}_mm", 44.0)
    assert migrate(opened)
    assert stored.measured == measured
    assert getattr(stored.scan, f"{measured}_mm") == pytest.approx(44.0)
    assert not migrate(opened)  # nothing is left to do


def test_the_rubber_of_an_old_file_still_rises(opened):
    bpy.ops.riseline.lay_out()
    stored, rubber = opened.riseline, own(opened)[names.RUBBER_ROLE]
    del rubber[names.FULL_MM]
    stored.form, stored.piece = 0, None
    assert migrate(opened)
    stored.rubber_level = 50.0
    full_mm = stored.results.case_level_z_mm
    assert stored.results.shown_level_mm == pytest.approx(full_mm / 2.0)
