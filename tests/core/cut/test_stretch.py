"""Needed stretch and length of the slit, against the strain of a ring and closed forms."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from blender_addon.core.constants.cut import GIRTH_CELLS
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.rings import rings_of
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.geometry.plane_cuts import level_cuts
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage

RISER = 6.35


def cut(mesh, settings=None, **case):
    case.setdefault("at", (0.0, 0.0))
    return cut_stage(cased(mesh, **case), NO_MARKS, settings or CutSettings(), Watch())


def mushroom(stem=10, cap=35, under=60.0, over=80.0):
    return shapes.turned([(0, 0), (stem, 0), (stem, under), (cap, under), (cap, over), (0, over)])


def soft(share):
    """Return settings whose allowed stretch is this fraction."""
    safe = 50 if share > 0.1 else 10
    return CutSettings(elongation_percent=100 * share / safe * 100, safe_share_percent=safe)


def rings(mesh, heights):
    """Return the rings at some heights of a piece that stands on z = 0."""
    at = np.asarray(heights, float)
    return rings_of(mesh, at, level_cuts(mesh, at), 0.001)


def test_a_ball_of_70_through_a_neck_of_40_stretches_it_by_three_quarters():
    # D1: girth needed / girth there - 1 = 70 / 40 - 1, engineering strain of a ring
    part = shapes.turned([(0, 0), (20, 0), (20, 30), (35, 30), (35, 60), (0, 60)])
    assert rings(part, [15.0, 45.0]).stretch == pytest.approx([0.75, 0.0], abs=1e-12)


def test_a_ring_need_not_let_pass_what_stands_below_it():
    part = shapes.turned(
        [(0, 0), (45, 0), (45, 20), (15, 20), (15, 40), (30, 40), (30, 60), (0, 60)]
    )
    assert rings(part, [10.0, 30.0, 50.0]).stretch == pytest.approx([0.0, 1.0, 0.0], abs=1e-12)


def test_a_stem_within_a_hollow_brim_is_a_neck():
    hanging = shapes.turned(
        [(0, 0), (10, 0), (10, 60), (30, 60), (30, 40), (35, 40), (35, 80), (0, 80)]
    )
    found = rings(hanging, [20.0, 50.0, 70.0])
    assert found.stretch == pytest.approx([2.5, 2.5, 0.0], abs=1e-9)


def test_an_arm_that_hangs_down_is_no_neck():
    body = shapes.box((40, 40, 100), (-20, -20, 0))
    arm = [shapes.box((20, 6, 6), (19, -3, 80)), shapes.box((6, 6, 50), (33, -3, 36))]
    solid = to_solid(body) + to_solid(arm[0]) + to_solid(arm[1])
    found = rings(to_mesh(solid), [20.0, 50.0])
    assert len(found.level) == 2  # none round the arm
    # the hull of both: three sides of the body, two slants and the arm's outer side
    passing = 40 + 40 + 40 + 6 + 2 * np.hypot(19, 17)
    assert found.ring_mm == pytest.approx([160.0, 160.0])
    assert found.passing_mm == pytest.approx([passing, passing], rel=1e-9)


def test_ears_need_let_pass_no_more_than_each_itself():
    ears = [shapes.cylinder(5, 40, low=39.0).moved(_shift(x)) for x in (-12.0, 12.0)]
    solid = to_solid(shapes.cylinder(20, 40)) + to_solid(ears[0]) + to_solid(ears[1])
    found = rings(to_mesh(solid), [60.0])
    assert len(found.level) == 2
    assert found.stretch == pytest.approx([0.0, 0.0], abs=1e-12)
    assert sorted(found.at_mm[:, 0]) == pytest.approx([-12.0, 12.0])


def _shift(x):
    matrix = np.eye(4)
    matrix[0, 3] = x
    return matrix


def test_a_handle_and_its_body_are_one_ring_for_the_web_is_cut():
    # a bar that stands beside the body and meets it at both ends
    body = to_solid(shapes.box((30, 30, 90), (-15, -15, 0)))
    for part in (
        ((20, 8, 8), (14, -4, 20)),
        ((20, 8, 8), (14, -4, 62)),
        ((8, 8, 50), (26, -4, 20)),
    ):
        body += to_solid(shapes.box(*part))
    found = rings(to_mesh(body), [45.0])
    assert len(found.level) == 1
    assert found.ring_mm == pytest.approx([30 * 3 + 8 + 2 * np.hypot(19, 11)])
    assert found.contour_mm == pytest.approx([4 * 30 + 4 * 8])


def test_small_parts_decide_nothing_and_are_told_of():
    knob = shapes.turned(
        [(0, 0), (40, 0), (40, 50), (2, 50), (2, 60), (4, 60), (4, 66), (0, 66)]
    )  # a knob of 25 mm girth on a stalk of 12.6
    found = cut(knob, CutSettings(elongation_percent=160, safe_share_percent=50))
    assert found.needed_stretch == pytest.approx(0.0, abs=1e-12)
    assert found.kind == "one slit"
    (place,) = found.tight
    assert place.needed_stretch == pytest.approx(1.0, rel=1e-9)
    assert place.at_mm[:2] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert RISER + 50 < place.at_mm[2] < RISER + 60


def test_a_bar_needs_no_stretch_and_the_shortest_slit():
    found = cut(shapes.cylinder(20, 100))
    assert found.needed_stretch == pytest.approx(0.0, abs=1e-12)
    assert found.slit_length_mm == pytest.approx(30.0, rel=1e-3)
    assert found.kind == "one slit"
    assert found.warnings == ()


def test_allowed_stretch_is_the_safe_share_of_the_elongation():
    settings = CutSettings(elongation_percent=500, safe_share_percent=33.33)
    assert cut(shapes.cylinder(20, 100), settings).allowed_stretch == pytest.approx(1.6665)


@pytest.mark.parametrize(("stem", "cap"), [(10, 35), (12, 30), (25, 40)])
def test_a_cap_on_a_stem_needs_the_ratio_of_their_radii(stem, cap):
    found = cut(mushroom(stem, cap), inner_diameter_mm=120.0)
    assert found.needed_stretch == pytest.approx(cap / stem - 1, rel=1e-12)


def test_the_slit_reaches_the_underside_of_a_cap_that_cannot_pass():
    found = cut(mushroom(10, 35), soft(2.4))  # needed 2.5
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 60, abs=1e-3)
    assert np.hypot(*found.slit_mm[-1, :2]) == pytest.approx(10, abs=0.03)
    assert found.slit_mm[-1, 1] > 8  # at the back, where it shows least
    assert found.slit_length_mm == pytest.approx(60.0, rel=1e-3)


def test_a_cap_that_can_pass_needs_the_shortest_slit_only():
    found = cut(mushroom(10, 35), soft(2.6))
    assert found.slit_length_mm == pytest.approx(30.0, rel=1e-3)


def test_in_a_widening_cone_the_slit_ends_where_the_rubber_can_stretch():
    cone = shapes.turned([(0, 0), (15, 0), (40, 100), (0, 100)])
    found = cut(cone, soft(1.0))
    # 40 / r - 1 = 1 at r = 20, that is a fifth of the way up
    assert found.needed_stretch == pytest.approx(40 / 15 - 1, rel=1e-5)
    least = cut(cone, replace(soft(1.0), least_slit_mm=0.0, way="slit"))
    top = least.slit_mm[-1, 2] - RISER
    assert 20 - 1e-6 <= top <= 20 + 100 / GIRTH_CELLS  # at the next height that is measured


def test_a_ball_on_a_small_base_is_slit_until_its_lips_let_its_girth_pass():
    low = np.arcsin(10 / 40)
    angle = np.linspace(-np.pi / 2 + low, np.pi / 2, 180)
    profile = np.column_stack([40 * np.cos(angle), 40 * np.sin(angle)])
    profile[-1, 0] = 0.0
    ball = shapes.turned([(0.0, profile[0, 1]), *profile])
    around = 2 * np.pi * np.arange(96) / 96
    base = 10 * np.column_stack([np.cos(around), np.sin(around)])
    settings = CutSettings(elongation_percent=160, safe_share_percent=50, least_slit_mm=0)
    found = cut(ball, settings, outline=(base,))
    assert found.needed_stretch == pytest.approx(3.0, rel=1e-3)
    # rings alone would do from r = 40 / 1.8 on, 13 mm along; but the base's rim of 2 pi 10 and both
    # lips have to let 2 pi 40 pass at 1.8: lips of pi (40 / 1.8 - 10) = 38 mm
    turned = low + np.pi * (1 / 1.8 - 1 / 4)
    height = 40 * (np.cos(low) - np.cos(turned))
    top = found.slit_mm[-1, 2] - RISER
    assert height - 80 / GIRTH_CELLS <= top <= height + 80 / GIRTH_CELLS
    assert found.lips.length_mm == pytest.approx(np.pi * (40 / 1.8 - 10), rel=0.02)
    assert found.pull.stretch <= 0.8


def test_a_slit_past_nine_tenths_of_the_height_makes_two_halves():
    cone = shapes.turned([(0, 0), (10, 0), (40, 100), (0, 100)])
    found = cut(cone, soft(0.05))  # r = 40 / 1.05 = 38.1, 94 % of the way up
    assert found.kind == "two halves"
    assert found.slit_mm[:, 2].max() == pytest.approx(RISER + 100, abs=1e-3)
    assert [notice.code for notice in found.warnings] == ["two_halves"]
    assert cut(cone, soft(0.2)).kind == "one slit"  # r = 33.3, 78 %


def test_a_low_piece_is_slit_to_its_top_and_no_further():
    found = cut(shapes.cylinder(20, 12))
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 12, abs=1e-3)
    assert found.kind == "one slit"


VASE = [(0, 0), (20, 0), (40, 40), (15, 80), (21, 100), (0, 100)]
"""Foot, belly, neck and lip as radius and height in mm, straight in between."""


def test_a_vase_is_held_at_its_foot_and_at_its_neck():
    # a ring must let pass what is widest above it: the belly at the foot, the lip at the neck
    curve = cut(shapes.turned(VASE), inner_diameter_mm=120.0).curve
    heights = curve.heights_mm - RISER
    radius = np.interp(heights, [0, 40, 80, 100], [20, 40, 15, 21])
    above = np.where(heights <= 40, 40.0, np.maximum(radius, 21.0))
    assert curve.needed == pytest.approx(above / radius - 1, abs=1e-5)
    assert curve.needed.max() == pytest.approx(1.0, rel=1e-5)
    at_neck = curve.needed[heights > 50].max()
    assert at_neck == pytest.approx(21 / 15 - 1, abs=1e-5)


LIPS = np.pi * (40 / 1.5 - 20)
"""How long lips must be that let the belly pass the foot at half as long again, in mm."""


@pytest.mark.parametrize(
    ("allowed", "height", "length"),
    [
        # the foot's rim and lips; the side leans by 1 in 2
        (0.5, LIPS / np.hypot(1, 0.5), LIPS),
        # past foot and belly up to where the lip's flare is 21 / 1.3 wide
        (0.3, 83.846, np.hypot(20, 40) + np.hypot(25, 40) + 3.846 * np.hypot(1, 0.3)),
    ],
)
def test_a_vase_is_slit_past_its_neck_only_where_the_lip_cannot_pass(allowed, height, length):
    settings = CutSettings(elongation_percent=200, safe_share_percent=50 * allowed, least_slit_mm=0)
    found = cut(shapes.turned(VASE), settings, inner_diameter_mm=120.0)
    assert found.allowed_stretch == pytest.approx(allowed)
    assert found.kind == "one slit"
    within = 100 / GIRTH_CELLS
    assert height - 0.01 <= found.slit_mm[-1, 2] - RISER <= height + within
    assert length - 0.02 <= found.slit_length_mm <= 1.002 * length + 1.2 * within


def test_size_does_not_change_the_stretch_and_scales_the_slit():
    settings = CutSettings(least_slit_mm=0)
    small = cut(mushroom(), settings)
    double = mushroom().with_vertices(2 * mushroom().vertices)
    large = cut(double, settings, inner_diameter_mm=320.0)
    assert large.needed_stretch == pytest.approx(small.needed_stretch, rel=1e-9)
    assert large.slit_length_mm == pytest.approx(2 * small.slit_length_mm, rel=1e-3)


def test_turning_the_piece_does_not_change_the_stretch():
    box = shapes.joined(
        shapes.box((20, 14, 50), (-10, -7, 0)), shapes.box((40, 30, 20), (-20, -15, 50))
    )
    matrix = np.eye(4)
    matrix[:3, :3] = Rotation.from_euler("z", 29, degrees=True).as_matrix()
    found, turned = cut(box), cut(box.moved(matrix))
    assert found.needed_stretch == pytest.approx(140 / 68 - 1)
    assert turned.needed_stretch == pytest.approx(found.needed_stretch)


def test_finer_triangles_do_not_change_the_stretch():
    coarse, fine = mushroom(), shapes.turned(
        [(0, 0), *[(10, z) for z in np.linspace(0, 60, 40)], (35, 60), (35, 80), (0, 80)]
    )  # fmt: skip
    assert cut(fine).needed_stretch == pytest.approx(cut(coarse).needed_stretch, rel=1e-12)
    assert cut(fine).slit_length_mm == pytest.approx(cut(coarse).slit_length_mm, rel=1e-3)
