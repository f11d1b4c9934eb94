"""What is out of date says so, alone or in a file opened anew, and runs alone."""

from __future__ import annotations

import bpy
import pytest

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.ui import ids
from blender_addon.ui.next_step import next_step

from .conftest import own
from .drawn import drawn


@pytest.mark.usefixtures("scan")
def test_nothing_is_out_of_date_after_a_run_and_a_change_names_what_follows_from_it(scene):
    assert outdated_stages(scene) == ()
    bpy.ops.riseline.lay_out()
    assert outdated_stages(scene) == ()
    scene.riseline.resin.shell_mm = 4.0
    assert outdated_stages(scene) == ("resin",)
    scene.riseline.funnel.bowl_ml = 250.0
    assert "funnel" in outdated_stages(scene)
    assert "scan" not in outdated_stages(scene)
    bpy.ops.riseline.lay_out()
    assert outdated_stages(scene) == ()


@pytest.mark.usefixtures("scan")
def test_one_stage_runs_alone_and_the_others_stay_out_of_date(scene):
    bpy.ops.riseline.lay_out()
    first = kept.layout(scene.riseline.results.token)
    scene.riseline.resin.shell_mm = 4.0
    scene.riseline.cut.tooth_mm = 12.0
    before = outdated_stages(scene)
    assert {"resin", "cut"} <= set(before)
    bpy.ops.riseline.lay_out(only="resin")
    second = kept.layout(scene.riseline.results.token)
    assert second.settings.resin.shell_mm == pytest.approx(4.0)
    assert second.cut is first.cut
    assert "resin" not in outdated_stages(scene)
    assert "cut" in outdated_stages(scene)


@pytest.mark.usefixtures("scan")
def test_a_file_opened_anew_still_knows_what_is_out_of_date(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    scene.riseline.resin.shell_mm = 4.0
    file = str(tmp_path / "mold.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert outdated_stages(bpy.context.scene) == ("resin",)
    assert bpy.context.scene.riseline.results.rubber_mass_g > 0.0


@pytest.mark.usefixtures("scan")
def test_reset_brings_defaults_back_but_keeps_what_was_said_of_the_piece(scene):
    scene.riseline.scan.height = 0.06
    scene.riseline.scan.riser_mm = 9.0
    scene.riseline.resin.shell_mm = 4.0
    bpy.ops.riseline.reset_stage(stage="scan")
    assert scene.riseline.scan.riser_mm == pytest.approx(6.35)
    assert scene.riseline.scan.height_mm == pytest.approx(60.0)
    assert scene.riseline.scan.up == "+z"
    assert scene.riseline.resin.shell_mm == pytest.approx(4.0)
    bpy.ops.riseline.reset_stage()
    assert scene.riseline.resin.shell_mm == pytest.approx(3.0)


@pytest.mark.usefixtures("scan")
def test_show_me_turns_the_view_to_the_place_of_a_warning(scene):
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    window = bpy.context.window_manager.windows[0]
    area = next(one for one in window.screen.areas if one.type == "VIEW_3D")
    bpy.ops.riseline.show_place(at_mm=(10.0, 0.0, 30.0))
    view = area.spaces.active.region_3d
    at = own(scene)[names.MASTER_ROLE].matrix_world.translation
    assert tuple(view.view_location - at) == pytest.approx((0.010, 0.0, 0.030), abs=1e-6)
    eye = view.view_rotation.to_matrix().col[2]
    assert eye.x > 0.9  # from outside, where x is larger
    assert kept.mark[0] == scene.riseline.results.token


@pytest.mark.usefixtures("scan")
def test_each_warning_is_stored_with_its_stage_and_place(scene):
    scene.riseline.cut.elongation_percent = 20.0
    bpy.ops.riseline.lay_out()
    layout = kept.layout(scene.riseline.results.token)
    rows = scene.riseline.results.warnings
    assert [(row.stage, row.code) for row in rows] == [
        (stage, notice.code) for stage, notice in layout.warnings_by_stage
    ]
    assert len(rows) > 0
    for row, (_, notice) in zip(rows, layout.warnings_by_stage, strict=True):
        assert row.has_place == (notice.at_mm is not None)


@pytest.mark.usefixtures("scan")
def test_a_choice_that_asks_for_more_puts_its_stage_out_of_date_and_stops_no_panel(scene):
    """By volume the densities of both parts are needed, and they are typed after it is chosen."""
    bpy.ops.riseline.lay_out()
    before = {panel: len(pad.words) for panel, pad in drawn().items()}
    scene.riseline.rubber.mix_by = "volume"
    told = outdated_stages(scene)
    assert told[0] == "rubber"
    assert "case" not in told
    pads = drawn()
    assert all(len(pads[panel].words) >= count for panel, count in before.items())
    assert "It will be 60.0 mm tall" in pads["MoldPanel"].words
    assert next_step(bpy.context).operator == ids.LAY_OUT
    with pytest.raises(RuntimeError, match="grams need the density of both parts"):
        bpy.ops.riseline.lay_out()
    assert "grams need the density" in kept.trouble
    scene.riseline.rubber.mix_by = "mass"
    assert outdated_stages(scene) == ()
    bpy.ops.riseline.lay_out()
    assert kept.trouble == ""
