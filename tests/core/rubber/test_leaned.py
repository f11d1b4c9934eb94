"""The pour into a leaned case, against closed forms and the upright case."""

from __future__ import annotations

import dataclasses
from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
import trimesh

from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.case.bore import Bore, round_bore
from blender_addon.core.geometry.solid import enclosed_volume_ml
from blender_addon.core.rubber.amount import rubber_below_ml, rubber_volume_ml
from blender_addon.core.rubber.leaned import leaned_frame, leaned_pour, leaned_rubber
from tests import shapes
from tests.core.layouts import layout


def cased(master, bore, level_mm=120.0, height_mm=130.0):
    """Return a case of some height round a master that stands on its board without a riser."""
    return dataclasses.replace(
        layout().case, bore=bore, height_mm=height_mm, level_z_mm=level_mm, master=master,
        riser_outline=(), riser_mm=0.0,
    )  # fmt: skip


def poured(case, degrees, towards_deg, pitch_mm=1.0):
    base = np.zeros(len(case.master.faces), dtype=bool)
    rubber_ml = rubber_volume_ml(case)
    return leaned_pour(case, base, pitch_mm, (degrees, towards_deg), rubber_ml)


POST = shapes.cylinder(2.0, 60.0, 96)


def test_upright_it_is_the_upright_pour():
    case = cased(POST, round_bore(100.0))
    pour = poured(case, 0.0, 77.0)
    assert pour.levels_mm[-1] == pytest.approx(120.0)
    np.testing.assert_allclose(pour.poured_ml, rubber_below_ml(case, pour.levels_mm), atol=1e-6)


@pytest.mark.parametrize("towards_deg", [0.0, 37.0, 205.0])
def test_a_leaned_tube_holds_a_hoof_until_its_floor_is_covered(towards_deg):
    # Archimedes' hoof: a level surface through the middle of the tilted floor keeps 2/3 r^2 h, h
    # its height at the wall, r tan t: 2/3 r^3 tan t. The post in the middle takes half of itself
    # there, about a thousandth.
    case = cased(POST, round_bore(100.0))
    pour = poured(case, 20.0, towards_deg)
    middle_mm = 50.0 * sin(radians(20.0))
    held_ml = float(np.interp(middle_mm, pour.levels_mm, pour.poured_ml))
    assert held_ml == pytest.approx(2.0 / 3.0 * 50.0**3 * tan(radians(20.0)) / 1000.0, rel=0.004)


def test_when_the_floor_is_covered_each_millimetre_holds_an_ellipse():
    # The level surface is an ellipse of pi r^2 / cos t, less the post's.
    case = cased(POST, round_bore(100.0))
    pour = poured(case, 20.0, 90.0)
    low_mm = 100.0 * sin(radians(20.0)) + 2.0
    levels = np.array([low_mm, low_mm + 10.0])
    one, other = np.interp(levels, pour.levels_mm, pour.poured_ml)
    sides = 96 / 2 * sin(2.0 * pi / 96) * 2.0**2
    wanted = (pi * 50.0**2 - sides) / cos(radians(20.0)) * 10.0 / 1000.0
    assert other - one == pytest.approx(wanted, rel=0.002)


def test_it_ends_where_the_rubber_would_run_over_the_rim():
    case = cased(POST, round_bore(100.0))
    pour = poured(case, 20.0, 0.0)
    # the lowest place of the rim: up the wall from the lowest place of the floor
    assert pour.levels_mm[-1] == pytest.approx(130.0 * cos(radians(20.0)), abs=0.02)
    assert pour.poured_ml[-1] < rubber_volume_ml(case)


def test_no_more_is_poured_than_there_is():
    case = cased(POST, round_bore(100.0), height_mm=400.0)
    pour = poured(case, 10.0, 0.0)
    assert pour.poured_ml[-1] == pytest.approx(rubber_volume_ml(case), rel=1e-3)


def test_a_riser_takes_its_room_in_a_leaned_case_as_well():
    riser = np.array([[-20.0, -20], [20, -20], [20, 20], [-20, 20]])
    bare = cased(POST.moved(np.eye(4)), round_bore(100.0))
    case = dataclasses.replace(bare, riser_outline=(riser,), riser_mm=6.0)
    levels = (130.0 * cos(radians(15.0))) - 1.0
    one, other = (
        float(np.interp(levels, pour.levels_mm, pour.poured_ml))
        for pour in (poured(bare, 15.0, 0.0), poured(case, 15.0, 0.0))
    )
    assert one - other == pytest.approx(40.0 * 40.0 * 6.0 / 1000.0, rel=1e-6)


def test_the_air_that_stays_is_that_of_the_leaned_piece():
    # A cup with its mouth down keeps pi r^2 (H - r tan t) when it leans, by integration.
    cup = shapes.cup(20.0, 60.0)
    cup = cup.with_vertices(cup.vertices + (5.0, 3.0, 20.0))
    pour = poured(cased(cup, round_bore(110.0)), 25.0, 140.0)
    wanted_ml = pi * 20.0**2 * (60.0 - 20.0 * tan(radians(25.0))) / 1000.0
    assert pour.trapped_ml == pytest.approx(wanted_ml, rel=0.005)
    (pocket,), (body,) = pour.pockets, pour.bodies
    assert pocket.volume_ml == pytest.approx(wanted_ml, rel=0.005)
    judge = trimesh.Trimesh(body.vertices, body.faces, process=True)
    assert judge.is_watertight
    assert judge.volume / 1000.0 == pytest.approx(wanted_ml, rel=0.002)
    # the body hangs in the leaned cup, over the saddle
    assert judge.bounds[0, 2] == pytest.approx(pocket.escape_at_mm[2], abs=1e-6)
    back = np.linalg.inv(pour.turn)
    inside = judge.vertices @ back[:3, :3].T + back[:3, 3] - (5.0, 3.0, 20.0)
    at_most = 20.0 + 2.5  # beside the lip, where it ends, a column's width may hang on
    assert np.hypot(inside[:, 0], inside[:, 1]).max() <= at_most
    assert inside[:, 2].max() <= 60.0 + 1e-6


def test_a_lean_that_frees_the_air_leaves_none():
    hole = shapes.tilted(shapes.cup(10.0, 30.0), 80.0)  # its mouth looks to +x, a little down
    low = hole.bounds[0][2]
    hole = hole.with_vertices(hole.vertices + (0.0, 0.0, 10.0 - low))
    case = cased(hole, round_bore(140.0))
    none = np.zeros(len(hole.faces), dtype=bool)
    assert trapped_air(hole, none, 0.5).trapped_ml > 0.5
    pour = poured(case, 14.0, 180.0, 0.5)
    assert pour.trapped_ml < 0.01
    assert pour.bodies == ()


def test_the_lowest_place_inside_lies_at_zero():
    outline = np.array([[-40.0, -20], [40, -20], [40, 20], [-40, 20]])
    frame = leaned_frame(outline, 30.0, 0.0)
    floor = np.column_stack([outline, np.zeros(4), np.ones(4)]) @ frame.T
    assert floor[:, 2].min() == pytest.approx(0.0, abs=1e-9)
    assert floor[:, 2].max() == pytest.approx(80.0 * sin(radians(30.0)))


@pytest.mark.parametrize("step", [8, 60, 150])
def test_the_shown_rubber_is_closed_level_and_holds_what_is_told(step):
    outline = np.array([[-40.0, -20], [40, -20], [40, 20], [-40, 20]])
    pour = poured(cased(POST, Bore(outline)), 20.0, 60.0)
    level_mm, post_ml = pour.levels_mm[step], enclosed_volume_ml(POST)
    body = leaned_rubber(outline, 130.0, pour.turn, level_mm)
    judge = trimesh.Trimesh(body.vertices, body.faces, process=True)
    assert judge.is_watertight
    assert judge.bounds[:, 2] == pytest.approx([0.0, level_mm], abs=1e-6)
    assert 0.0 <= judge.volume / 1000.0 - pour.poured_ml[step] + 1e-9 <= post_ml + 1e-6
