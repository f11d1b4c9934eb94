"""The list of pockets: what it tells, where a click looks, and ticks that stay."""

from __future__ import annotations

import math

import bpy
import pytest
from mathutils import Vector

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from tests import shapes

from .conftest import TRAPPED_ML, add, own


def _terraces():
    """Return a turned piece with two brims over each other: the wider one, above, traps more."""
    profile = [
        (0, 0), (12, 0), (12, 30), (20, 30), (20, 26), (24, 26), (24, 33), (12, 34),
        (12, 60), (28, 60), (28, 55), (32, 55), (32, 63), (15, 75), (0, 75),
    ]  # fmt: skip
    return shapes.turned(profile, segments=48)


@pytest.fixture
def terraces(scene):
    assert not scene.objects
    thing = add("terraces", _terraces())
    bpy.ops.riseline.lay_out()
    return thing


def _ring_ml(inner_mm, outer_mm, height_mm):
    return math.pi * (outer_mm**2 - inner_mm**2) * height_mm / 1000.0


@pytest.mark.usefixtures("terraces")
def test_the_largest_pocket_stands_first_and_tells_when_it_closes(scene):
    found = scene.riseline.results
    upper, lower = found.pockets[:2]
    # closed forms: rings of air between the stem and the inside of each brim
    assert upper.volume_ml == pytest.approx(_ring_ml(12, 28, 5), rel=0.03)
    assert lower.volume_ml == pytest.approx(_ring_ml(12, 20, 4), rel=0.05)
    assert upper.depth_mm == pytest.approx(5.0, abs=0.1)
    riser_mm = kept.layout(found.token).scan.riser_mm
    # air leaves under the edge of its brim until the rubber stands there
    assert upper.level_z_mm == pytest.approx(riser_mm + 55.0, abs=0.1)
    assert lower.level_z_mm == pytest.approx(riser_mm + 26.0, abs=0.1)
    assert 0.0 < lower.rubber_ml < upper.rubber_ml < found.rubber_volume_ml


def _view():
    window = bpy.context.window_manager.windows[0]
    area = next(one for one in window.screen.areas if one.type == "VIEW_3D")
    region = next(one for one in area.regions if one.type == "WINDOW")
    return {"window": window, "area": area, "region": region}


@pytest.mark.usefixtures("terraces")
def test_a_chosen_pocket_is_looked_at_from_below(scene):
    bpy.context.view_layer.update()
    found, shown = scene.riseline.results, own(scene)["brush map"]
    for chosen in (1, 0):
        with bpy.context.temp_override(**_view()):
            found.pocket_row = chosen
            view = bpy.context.space_data.region_3d
        place = shown.matrix_world.inverted() @ view.view_location * 1000.0
        case = kept.layout(found.token).case
        pocket = kept.layout(found.token).bubbles.pockets[chosen]
        # the point looked at lies at the pocket's ceiling, between stem and brim
        assert place.z == pytest.approx(pocket.ceiling_at_mm[2], abs=1e-2)
        axis = Vector((*case.center_mm, 0.0))
        assert 10.0 < (place - axis).xy.length < 30.0
        looks = view.view_rotation @ Vector((0.0, 0.0, -1.0))
        up_in_piece = shown.matrix_world.to_3x3() @ Vector((0.0, 0.0, 1.0))
        assert looks.dot(up_in_piece) == pytest.approx(1.0, abs=1e-4)
        assert 0.01 < view.view_distance < 1.0


def test_choosing_a_pocket_without_its_map_does_nothing(scene, terraces):
    assert terraces
    bpy.data.objects.remove(own(scene)["brush map"])
    with bpy.context.temp_override(**_view()):
        view = bpy.context.space_data.region_3d
        before = view.view_location.copy()
        scene.riseline.results.pocket_row = 0
        assert view.view_location == before


@pytest.mark.usefixtures("terraces")
def test_a_tick_stays_with_its_pocket_when_riser_case_and_pitch_change(scene):
    stored = scene.riseline
    stored.results.pockets[1].brushed = True
    stored.scan.riser = 0.012
    stored.case.cover = 0.030
    stored.bubbles.pitch_mm = 0.4
    bpy.ops.riseline.lay_out()
    assert [one.brushed for one in stored.results.pockets[:2]] == [False, True]


def test_a_tick_goes_when_its_pocket_is_gone(scene, terraces):
    for row in scene.riseline.results.pockets:
        row.brushed = True
    terraces.scale = (1.0, 1.0, 1.5)
    bpy.context.view_layer.update()
    bpy.ops.riseline.lay_out()
    rows = scene.riseline.results.pockets
    assert len(rows) >= 2
    assert not any(one.brushed for one in rows)


@pytest.mark.usefixtures("scan")
def test_a_single_pocket_is_the_ring_under_the_brim(scene):
    bpy.ops.riseline.lay_out()
    found = scene.riseline.results
    # all its air is one pocket of known volume: closed form
    assert found.pockets[0].volume_ml == pytest.approx(TRAPPED_ML, rel=0.02)
    assert found.pocket_row == -1
    assert names.MAP_ROLE in own(scene)


def _hour(layout, towards_deg):
    """Return the hour whose hand points nearest to the way that a lean goes, the channel at 12."""
    way = math.radians(towards_deg)
    x, y, _ = layout.case.placement[:3, :3] @ [math.cos(way), math.sin(way), 0.0]
    turns = {hour: math.radians(30.0 * hour) for hour in range(1, 13)}  # a hand in 12 hours
    return max(turns, key=lambda hour: math.sin(turns[hour]) * x + math.cos(turns[hour]) * y)


def test_the_leans_stand_best_first_and_a_pocket_tells_which_one_frees_it(scene):
    scene.riseline.bubbles.lean_limit_deg = 24.0
    # a block with a round blind hole that looks to +x, 10 degrees below level
    add("blind hole", shapes.tilted(shapes.cup(10.0, 30.0), 80.0))
    bpy.ops.riseline.lay_out()
    found = scene.riseline.results
    traps_ml = [one.trapped_ml for one in found.leans]
    assert traps_ml == sorted(traps_ml)
    assert traps_ml[-1] > traps_ml[0]
    pocket = found.pockets[0]
    # its mouth is lifted over level by more than 10 degrees, away from +x
    assert 10.0 < pocket.freed_degrees <= 24.0
    layout = kept.layout(found.token)
    lean = layout.bubbles.pockets[0].freed_by
    assert math.cos(math.radians(lean.towards_deg - 180.0)) > 0.4
    assert pocket.freed_hour == _hour(layout, lean.towards_deg)
    for row, one in zip(found.leans, layout.bubbles.leans, strict=True):
        assert row.hour == _hour(layout, one.towards_deg)
    assert len({(row.degrees, row.hour) for row in found.leans}) == len(found.leans)


def test_a_ring_all_round_the_stem_is_freed_by_no_small_lean(scene, scan):
    assert scan
    scene.riseline.bubbles.lean_limit_deg = 2.0
    bpy.ops.riseline.lay_out()
    found = scene.riseline.results
    assert found.leans
    # 5 mm deep and 56 mm across: at 2 degrees the brim's edge rises by 2 mm, so air stays
    assert found.pockets[0].volume_ml == pytest.approx(TRAPPED_ML, rel=0.02)
    assert found.pockets[0].freed_degrees == 0.0
