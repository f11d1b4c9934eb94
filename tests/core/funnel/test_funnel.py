"""The funnel's measures: hand cases, closed forms, what it must never do, and a scan."""

from __future__ import annotations

import dataclasses
import json
import math
from pathlib import Path

import manifold3d
import numpy as np
import pytest
import shapely
from scipy.spatial import ConvexHull

from blender_addon.core.case.bore import Bore
from blender_addon.core.errors import BadSettingError
from blender_addon.core.funnel.bowl import CONE_SPREAD, bowl_over, cone_mm3
from blender_addon.core.funnel.duct import duct_flow_mm4, equal_round_mm
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.convex import spread_of
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.plan import edge_distances_mm, shadow_edges
from blender_addon.core.rubber.pour import flow_ml_s
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased
from tests.core.scans import bunny

REFERENCE = Path(__file__).resolve().parents[2] / "reference"


def made(case, **settings):
    return funnel_stage(case, FunnelSettings(**settings), Watch())


def test_the_throat_is_the_channel_s_own_shape_out_to_the_wall():
    # by hand: tube 160, bar 100 across set 8 mm forward: free at the back from y = 42 to the wall;
    # the channel's disc takes all of that, and 40 mm across is the most that is asked
    funnel = made(cased(shapes.cylinder(50, 100)))
    low, high = funnel.throat_outline_mm.min(axis=0), funnel.throat_outline_mm.max(axis=0)
    assert low == pytest.approx((-20, 42), abs=0.02)
    assert high == pytest.approx((20, 80), abs=0.02)
    under_arc = 20 * math.sqrt(80**2 - 20**2) + 80**2 * math.asin(20 / 80) - 40 * 42
    # corners are rounded by 3 mm: each of four takes less than a square of 3 mm does
    assert under_arc - 4 * 9 < 100 * funnel.throat_area_cm2 < under_arc + 0.5
    assert funnel.at_mm[0] == pytest.approx(0, abs=1e-3)
    assert not funnel.warnings


def test_a_throat_as_narrow_as_a_slot_is_still_one_outline_of_the_least_width():
    funnel = made(cased(shapes.cylinder(50, 100)), widest_throat_mm=4.0)
    assert np.ptp(funnel.throat_outline_mm, axis=0) == pytest.approx((4, 4), abs=1e-2)


@pytest.mark.parametrize("x", [0.0, 12.0, -20.0])
@pytest.mark.parametrize("widest", [4.0, 12.0, 40.0])
def test_it_reaches_the_tube_and_never_beyond(x, widest):
    case = cased(shapes.cylinder(50, 100))
    reach = math.sqrt((80 - case.channel_mm / 2) ** 2 - x**2)
    case = dataclasses.replace(case, channel_at_mm=(x, reach))
    funnel = made(case, widest_throat_mm=widest)
    off = case.bore.distances_mm(funnel.throat_outline_mm)
    assert off.min() == pytest.approx(0, abs=0.03)  # a polygon's corners lie outside its circle
    outside = shapely.Polygon(funnel.throat_outline_mm) - shapely.Polygon(case.bore.outline_mm)
    assert outside.area < 1e-6
    assert funnel.at_mm[1] > 0


@pytest.mark.parametrize("radius", [20.0, 45.0, 60.0])
@pytest.mark.parametrize("forward", [5.0, 10.0])
@pytest.mark.parametrize("clearance", [0.3, 2.0, 3.0])
def test_the_stream_keeps_clear_of_the_master(radius, forward, clearance):
    case = cased(shapes.cylinder(radius, 100), at=(0.0, -forward))
    funnel = made(case, clearance_mm=clearance)
    x, y = funnel.throat_outline_mm.T
    gap = np.hypot(x, y + forward).min() - radius
    assert gap >= -1e-6  # the channel's own disc touches the bar's shadow
    narrow = made(case, clearance_mm=clearance, widest_throat_mm=case.channel_mm - clearance)
    x, y = narrow.throat_outline_mm.T
    assert np.hypot(x, y + forward).min() - radius >= clearance - 1e-6


@pytest.mark.parametrize("degrees", [0.0, 25.0, 160.0])
def test_beside_the_channel_the_stream_keeps_its_clearance_from_arms_on_both_sides(degrees):
    arms = shapes.joined(
        shapes.box((100, 20, 60), (-50, -10, 0)),
        shapes.box((32, 60, 20), (-50, 0, 50)),
        shapes.box((32, 50, 20), (18, 0, 20)),
    )
    # a channel narrower than the 36 mm between the arms: the throat would be 40 mm across
    case = cased(arms, inner_diameter_mm=190.0, at=(0, 0), channel_mm=30.0, channel_at=(0, 20))
    turn = np.radians(degrees)
    matrix = np.eye(4)
    matrix[:2, :2] = [[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]
    case = dataclasses.replace(
        case, master=case.master.moved(matrix), channel_at_mm=tuple(matrix[:2, :2] @ (0, 20))
    )
    funnel = made(case, widest_throat_mm=200.0)
    # an independent judge: the room grown by the clearance meets no part of the master
    room = manifold3d.CrossSection([np.array(funnel.throat_outline_mm)])
    column = room.offset(1.99, manifold3d.JoinType.Round).extrude(1000).translate((0, 0, -100))
    assert (column ^ to_solid(case.master)).volume() < 1e-6
    assert (room.offset(2.1).extrude(1000) ^ to_solid(case.master)).volume() > 1e-3
    assert funnel.throat_area_cm2 > math.pi * 15**2 / 100


@pytest.mark.parametrize("half", [(60.0, 80.0), (85.0, 70.0)])
def test_in_an_oval_case_the_throat_follows_the_oval_wall(half):
    angle = np.linspace(0, 2 * np.pi, 180, endpoint=False)
    oval = Bore(np.column_stack([half[0] * np.cos(angle), half[1] * np.sin(angle)]))
    case = cased(shapes.cylinder(30, 100), at=(0.0, -10.0), channel_mm=20.0)
    case = dataclasses.replace(case, bore=oval, channel_at_mm=(0.0, half[1] - 10.2))
    funnel = made(case, widest_throat_mm=24.0)
    off = oval.distances_mm(funnel.throat_outline_mm)
    assert off.min() == pytest.approx(0, abs=0.01)
    assert np.count_nonzero(np.abs(off) < 0.01) >= 4  # along the wall, and not in one point


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
    assert rise > funnel.spread_mm > 0
    # the outside of the cone, a wall's thickness off its inside, at the throat's outer wall
    slope = math.atan2(rise, funnel.spread_mm)
    outside_z = funnel.cone_z_mm + wall * math.tan(slope) - wall / math.cos(slope)
    assert outside_z > case.height_mm
    assert funnel.top_z_mm > funnel.bowl_z_mm
    assert funnel.height_mm == pytest.approx(funnel.top_z_mm - funnel.throat_bottom_z_mm)
    assert funnel.throat_length_mm == pytest.approx(funnel.cone_z_mm - funnel.throat_bottom_z_mm)


@pytest.mark.parametrize("bowl_ml", [10.0, 120.0, 300.0, 1000.0, 5000.0])
def test_the_bowl_holds_what_the_hull_of_its_outlines_holds(bowl_ml):
    funnel = made(cased(shapes.cylinder(50, 100)), bowl_ml=bowl_ml)
    wide = funnel.spread.ring(funnel.spread_mm)
    rings = [(funnel.throat_outline_mm, funnel.cone_z_mm), (wide, funnel.bowl_z_mm)]
    points = np.vstack([np.column_stack([ring, np.full(len(ring), z)]) for ring, z in rings])
    judge_ml = ConvexHull(points).volume / 1000
    straight = funnel.top_z_mm - funnel.bowl_z_mm
    judge_ml += ConvexHull(wide).volume * straight / 1000  # of a plan, scipy's volume is its area
    assert funnel.bowl_ml == pytest.approx(judge_ml, rel=1e-9)
    assert funnel.bowl_ml >= bowl_ml - 1e-9
    if bowl_ml >= 300:  # smaller ones are as wide as the hook needs
        assert funnel.bowl_ml == pytest.approx(bowl_ml, rel=1e-9)


def test_a_cone_over_a_circle_is_the_frustum_of_the_books():
    # radii 20 and 40, 60 high: 175 929.19 mm3; any table of solids, e.g. Bronshtein, section 3.3
    angle = np.linspace(0, 2 * np.pi, 720, endpoint=False)
    circle = 20 * np.column_stack([np.cos(angle), np.sin(angle)])
    mm3 = cone_mm3(spread_of(circle), 20.0) * CONE_SPREAD * 60 / 20
    assert mm3 == pytest.approx(175929.19, rel=3e-5)


def test_a_wide_throat_still_gets_a_bowl():
    square = 100 * np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
    bowl = bowl_over(spread_of(square), 10.0, 15.0)
    assert bowl.spread_mm == 15
    assert bowl.holds_ml > 10


FLOW = json.loads((REFERENCE / "flow.json").read_text(encoding="utf-8"))


def flow_under_own_weight_ml_s(outline):
    drive = FLOW["density_kg_m3"] * 9.80665 / FLOW["viscosity_pa_s"]
    return duct_flow_mm4(outline) * 1e-12 * drive * 1e6


def rectangle(wide, deep):
    return np.array([[0.0, 0.0], [wide, 0.0], [wide, deep], [0.0, deep]])


def test_a_round_duct_passes_what_hagen_and_poiseuille_say():
    known = FLOW["full_pipe_under_own_weight"]
    angle = np.linspace(0, 2 * np.pi, 256, endpoint=False)
    circle = known["diameter_mm"] / 2 * np.column_stack([np.cos(angle), np.sin(angle)])
    found = flow_under_own_weight_ml_s(circle)
    assert 0.998 * known["flow_ml_s"] < found < known["flow_ml_s"]
    assert equal_round_mm(duct_flow_mm4(circle)) == pytest.approx(12, abs=0.01)


@pytest.mark.parametrize("turn_deg", [0.0, 33.0])
def test_a_slot_and_a_square_pass_what_the_exact_series_say(turn_deg):
    turn = np.radians(turn_deg)
    matrix = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    slot, square = FLOW["slot_under_own_weight"], FLOW["square_under_own_weight"]
    found = flow_under_own_weight_ml_s(rectangle(slot["width_mm"], slot["gap_mm"]) @ matrix)
    assert 0.99 * slot["flow_ml_s"] < found < slot["flow_ml_s"]
    found = flow_under_own_weight_ml_s(rectangle(square["side_mm"], square["side_mm"]) @ matrix)
    assert 0.995 * square["flow_ml_s"] < found < square["flow_ml_s"]


def test_two_litres_through_a_slot_take_what_the_slot_takes_by_the_book():
    # the same 60 x 8 slot, as the rubber's pour counts it: long, so that its ends do not matter
    slot = FLOW["slot_under_own_weight"]
    round_mm = equal_round_mm(duct_flow_mm4(rectangle(slot["width_mm"], slot["gap_mm"])))
    found = flow_ml_s(round_mm, 1e5, 0.0, FLOW["viscosity_pa_s"], FLOW["density_kg_m3"])
    assert 2000 / found == pytest.approx(1450, rel=0.01)


def test_the_throat_counts_as_the_round_one_that_passes_as_much():
    funnel = made(cased(shapes.cylinder(50, 100)))
    by_area = math.sqrt(400 * funnel.throat_area_cm2 / math.pi)
    # of all sections of an area the circle passes most (Polya 1948); it holds the channel's disc
    assert 38 - 2 * (2 + 2) < funnel.throat_mm < by_area


def test_a_throat_that_the_master_keeps_from_the_wall_says_so():
    # a slab between the channel and the wall, from y = 51 once the plan is centred
    slab = shapes.box((80, 8, 100), (-40, 50, 0))
    rest = shapes.box((80, 10, 100), (-40, -60, 0))
    case = cased(shapes.joined(slab, rest), at=(0, 0), channel_mm=24.0, channel_at=(0.0, 10.0))
    funnel = made(case)
    assert funnel.throat_outline_mm[:, 1].max() == pytest.approx(51 - 2, abs=0.01)
    assert funnel.throat_outline_mm[:, 1].min() > -49 + 2
    assert [notice.code for notice in funnel.warnings] == ["throat_off_wall"]
    assert funnel.warnings[0].at_mm == (*funnel.at_mm, funnel.throat_bottom_z_mm)


def test_a_channel_without_room_for_a_throat_is_refused():
    case = cased(shapes.cylinder(50, 100), channel_mm=3.9)
    with pytest.raises(BadSettingError, match=r"3\.9 mm wide, and the least throat 4 mm") as caught:
        made(case)
    assert caught.value.name == "case.least_channel_mm"
    assert made(dataclasses.replace(case, channel_mm=4.1)).throat_mm >= 4.1


def test_the_funnel_of_a_scan_holds_its_channel_and_stays_over_the_rubber():
    case = cased(bunny(120.0), inner_diameter_mm=200.0)
    funnel = made(case)
    nearest = edge_distances_mm(funnel.throat_outline_mm, shadow_edges(case.master)).min()
    assert nearest >= -1e-6
    assert funnel.throat_bottom_z_mm > case.level_z_mm
    assert case.channel_mm > 70
    assert disc_in(funnel, case.channel_at_mm) == pytest.approx(case.channel_mm / 2, abs=0.02)
    # a narrower one that is asked for stands at the wall
    narrow, (x, y) = made(case, widest_throat_mm=40.0), case.channel_at_mm
    assert disc_in(narrow, (x, y + case.channel_mm / 2 - 20)) == pytest.approx(20, abs=0.02)


def disc_in(funnel, at):
    """Return the radius of the widest disc about a point in the throat."""
    return shapely.Polygon(funnel.throat_outline_mm).exterior.distance(shapely.Point(*at))


@pytest.mark.parametrize("radius", [30.0, 50.0, 63.0])
def test_the_channel_s_whole_disc_falls_through_the_throat(radius):
    case = cased(shapes.cylinder(radius, 100))
    funnel = made(case)
    assert shapely.Polygon(funnel.throat_outline_mm).contains(shapely.Point(*case.channel_at_mm))
    assert disc_in(funnel, case.channel_at_mm) == pytest.approx(case.channel_mm / 2, abs=0.02)
    assert disc_in(funnel, case.channel_at_mm) >= case.channel_mm / 2 - 0.002


def test_a_throat_too_wide_to_lead_the_stream_says_what_to_set():
    wide = made(cased(shapes.cylinder(25, 100)))
    (told,) = wide.warnings
    assert told.code == "wide_throat"
    assert "funnel.widest_throat_mm to 60 mm" in told.text
    assert not made(cased(shapes.cylinder(25, 100)), widest_throat_mm=60.0).warnings
    assert not made(cased(shapes.cylinder(50, 100))).warnings


def test_a_disc_in_a_bay_far_from_the_wall_falls_through_too():
    # posts on both sides narrow the way to the wall; the depth that may be asked for is 40 mm
    posts = shapes.joined(
        shapes.box((20, 10, 60), (-40, 40, 0)), shapes.box((20, 10, 60), (20, 40, 0)),
        shapes.box((80, 10, 60), (-40, -50, 0)),
    )  # fmt: skip
    case = cased(posts, inner_diameter_mm=200.0, at=(0, 0), channel_mm=39.0, channel_at=(0, 10))
    funnel = made(case)
    assert disc_in(funnel, (0, 10)) >= 19.5 - 0.01
