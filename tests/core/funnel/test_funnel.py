"""The funnel's measures: hand cases, closed forms, what it must never do, and a scan."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest
import trimesh

from blender_addon.core.errors import BadSettingError
from blender_addon.core.funnel.bowl import bowl_over, frustum_mm3
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.funnel.throat import plan_distance_mm
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased
from tests.core.scans import bunny


def made(case, **settings):
    return funnel_stage(case, FunnelSettings(**settings), Watch())


def test_the_throat_is_the_channel_less_clearance_and_wall():
    # by hand: tube 160, bar 100 across set 8 mm forward: 38 mm are free at the back, about y = 61
    funnel = made(cased(shapes.cylinder(50, 100)))
    assert funnel.throat_mm == pytest.approx(38 - 2 * (2 + 2), abs=1e-6)
    assert funnel.at_mm == pytest.approx((0, 61), abs=1e-6)
    assert funnel.throat_area_cm2 == pytest.approx(math.pi * 1.5**2, rel=1e-6)
    assert not funnel.warnings


@pytest.mark.parametrize("x", [0.0, 12.0, -20.0])
@pytest.mark.parametrize("widest", [4.0, 12.0, 40.0])
def test_its_outer_wall_stands_clearance_off_the_tube(x, widest):
    case = cased(shapes.cylinder(50, 100))
    reach = math.sqrt((80 - case.channel_mm / 2) ** 2 - x**2)
    case = dataclasses.replace(case, channel_at_mm=(x, reach))
    funnel = made(case, widest_throat_mm=widest)
    outer = funnel.throat_mm / 2 + funnel.wall_mm
    assert math.hypot(*funnel.at_mm) + outer == pytest.approx(80 - 2, abs=1e-6)
    assert funnel.at_mm[0] == x
    assert funnel.at_mm[1] > 0


@pytest.mark.parametrize("radius", [20.0, 45.0, 60.0])
@pytest.mark.parametrize("forward", [5.0, 10.0])
@pytest.mark.parametrize("clearance", [0.3, 2.0, 3.0])
def test_it_keeps_its_clearance_from_the_master(radius, forward, clearance):
    case = cased(shapes.cylinder(radius, 100), at=(0.0, -forward))
    funnel = made(case, clearance_mm=clearance)
    x, y = funnel.at_mm
    gap = math.hypot(x, y + forward) - radius - funnel.throat_mm / 2 - funnel.wall_mm
    assert gap >= clearance - 1e-6


@pytest.mark.parametrize("freeboard", [0.0, 1.0, 2.5, 10.0, 29.0, 200.0])
def test_the_throat_never_dips_in_the_rubber_and_reaches_below_the_rim_where_it_can(freeboard):
    case = cased(shapes.cylinder(50, 100), freeboard_mm=freeboard)
    funnel = made(case)
    assert funnel.throat_bottom_z_mm >= case.level_z_mm + min(freeboard / 2, 1) - 1e-9
    assert (funnel.throat_bottom_z_mm < case.height_mm) == (freeboard >= 2)
    codes = [notice.code for notice in funnel.warnings]
    assert codes == ([] if freeboard >= 2 else ["no_freeboard"])


@pytest.mark.parametrize("bowl_ml", [10.0, 300.0, 5000.0])
@pytest.mark.parametrize("wall", [0.8, 2.0, 5.0])
def test_the_whole_cone_is_over_the_rim_and_steeper_than_45_degrees(bowl_ml, wall):
    case = cased(shapes.cylinder(50, 100))
    funnel = made(case, bowl_ml=bowl_ml, wall_mm=wall)
    rise = funnel.bowl_z_mm - funnel.cone_z_mm
    assert rise > (funnel.bowl_mm - funnel.throat_mm) / 2 > 0
    # the outside of the cone, a wall's thickness off its inside, at the throat's outer radius
    slope = math.atan2(rise, (funnel.bowl_mm - funnel.throat_mm) / 2)
    outside_z = funnel.cone_z_mm + wall * math.tan(slope) - wall / math.cos(slope)
    assert outside_z > case.height_mm
    assert funnel.top_z_mm > funnel.bowl_z_mm
    assert funnel.height_mm == pytest.approx(funnel.top_z_mm - funnel.throat_bottom_z_mm)
    assert funnel.throat_length_mm == pytest.approx(funnel.cone_z_mm - funnel.throat_bottom_z_mm)


@pytest.mark.parametrize("bowl_ml", [10.0, 120.0, 300.0, 1000.0, 5000.0])
def test_the_bowl_holds_what_a_turned_mesh_of_it_holds(bowl_ml):
    funnel = made(cased(shapes.cylinder(50, 100)), bowl_ml=bowl_ml)
    profile = [
        (0, funnel.cone_z_mm),
        (funnel.throat_mm / 2, funnel.cone_z_mm),
        (funnel.bowl_mm / 2, funnel.bowl_z_mm),
        (funnel.bowl_mm / 2, funnel.top_z_mm),
        (0, funnel.top_z_mm),
    ]
    mesh = shapes.turned(profile, 720)
    judge_ml = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).volume / 1000
    assert judge_ml < funnel.bowl_ml < judge_ml * 1.0001  # inscribed: the mesh holds less
    assert funnel.bowl_ml >= bowl_ml - 1e-9
    if bowl_ml >= 300:  # smaller ones are as wide as the hook needs
        assert funnel.bowl_ml == pytest.approx(bowl_ml, rel=1e-9)


def test_a_frustum_from_the_books():
    # radii 40 and 20, 60 high: 175 929.19 mm3; any table of solids, e.g. Bronshtein, section 3.3
    assert frustum_mm3(40, 20, 60) == pytest.approx(175929.19, rel=1e-7)
    assert frustum_mm3(0, 30, 90) == pytest.approx(math.pi * 30**2 * 90 / 3, rel=1e-12)


def test_a_wide_throat_still_gets_a_bowl():
    bowl = bowl_over(60.0, 10.0, 75.0)
    assert bowl.radius_mm == 75
    assert bowl.holds_ml > 10


def test_a_throat_that_the_master_keeps_from_the_wall_says_so():
    # a slab between the channel and the wall
    slab = shapes.box((80, 8, 100), (-40, 50, 0))
    rest = shapes.box((80, 10, 100), (-40, -60, 0))
    case = cased(shapes.joined(slab, rest), at=(0, 0), channel_mm=24.0, channel_at=(0.0, 10.0))
    funnel = made(case)
    assert funnel.at_mm == (0, 10)
    assert [notice.code for notice in funnel.warnings] == ["throat_off_wall"]
    assert funnel.warnings[0].at_mm == (0, 10, funnel.throat_bottom_z_mm)


def test_a_channel_without_room_for_a_throat_is_refused():
    case = cased(shapes.cylinder(50, 100), channel_mm=11.9)
    with pytest.raises(BadSettingError, match=r"least throat of 4 mm needs 12\.0 mm") as caught:
        made(case)
    assert caught.value.name == "case.least_channel_mm"
    assert made(dataclasses.replace(case, channel_mm=12.1)).throat_mm == pytest.approx(4.1)


@pytest.mark.parametrize("turn_deg", [0.0, 17.0, 200.0])
def test_plan_distance_to_a_bar_and_to_a_box(turn_deg):
    turn = np.radians(turn_deg)
    matrix = np.eye(4)
    matrix[:2, :2] = [[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]

    def turned(*point):
        return tuple(matrix[:2, :2] @ point)

    box = shapes.box((10, 20, 5)).moved(matrix)
    assert plan_distance_mm(box, turned(13, 24)) == pytest.approx(5)  # 3, 4, 5 from its corner
    assert plan_distance_mm(box, turned(-2, 7)) == pytest.approx(2)
    assert plan_distance_mm(box, turned(5, 6)) == 0
    bar = shapes.cylinder(50, 80, 192)
    distance = plan_distance_mm(bar, turned(0, 70))
    assert 20 - 1e-9 <= distance <= 20 + 50 * (1 - np.cos(np.pi / 192))  # inscribed: never nearer


def test_the_funnel_of_a_scan_stands_clear_of_it():
    case = cased(bunny(120.0), inner_diameter_mm=200.0)
    funnel = made(case)
    points = case.master.vertices[:, :2] - funnel.at_mm
    nearest = float(np.hypot(*points.T).min()) - funnel.throat_mm / 2 - funnel.wall_mm
    assert nearest >= 2.0 - 1e-3
    assert funnel.throat_bottom_z_mm > case.level_z_mm
