"""Needed stretch and length of the slit, against the strain of a ring and closed forms."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from blender_addon.core.constants import GIRTH_CELLS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.cut.stage import cut_stage
from blender_addon.core.cut.stretch import needed_stretches
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased

RISER = 6.35


def cut(mesh, settings=None, **case):
    case.setdefault("at", (0.0, 0.0))
    return cut_stage(cased(mesh, **case), settings or CutSettings(), Watch())


def mushroom(stem=10, cap=35, under=60.0, over=80.0):
    return shapes.turned([(0, 0), (stem, 0), (stem, under), (cap, under), (cap, over), (0, over)])


def soft(share):
    """Return settings whose allowed stretch is this fraction."""
    safe = 50 if share > 0.1 else 10
    return CutSettings(elongation_percent=100 * share / safe * 100, safe_share_percent=safe)


def test_a_ball_of_70_through_a_neck_of_40_stretches_it_by_three_quarters():
    # girth needed / girth there - 1 = 70 / 40 - 1, engineering strain of a ring
    assert needed_stretches(np.pi * np.array([40.0, 70.0])).tolist() == [0.75, 0.0]


def test_a_ring_need_not_let_pass_what_stands_below_it():
    assert needed_stretches(np.array([90.0, 30.0, 60.0, 0.0])).tolist() == [0.0, 1.0, 0.0, 0.0]


def test_a_bar_needs_no_stretch_and_the_shortest_slit():
    found = cut(shapes.cylinder(20, 100))
    assert found.needed_stretch == pytest.approx(0.0, abs=1e-12)
    assert found.slit_length_mm == pytest.approx(30.0)
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
    assert found.slit_mm[-1] == pytest.approx([0, 10, RISER + 60], abs=1e-3)
    assert found.slit_length_mm == pytest.approx(60.0, abs=1e-3)


def test_a_cap_that_can_pass_needs_the_shortest_slit_only():
    found = cut(mushroom(10, 35), soft(2.6))
    assert found.slit_length_mm == pytest.approx(30.0)


def test_in_a_widening_cone_the_slit_ends_where_the_rubber_can_stretch():
    cone = shapes.turned([(0, 0), (15, 0), (40, 100), (0, 100)])
    found = cut(cone, soft(1.0))
    # 40 / r - 1 = 1 at r = 20, that is a fifth of the way up
    assert found.needed_stretch == pytest.approx(40 / 15 - 1, rel=1e-5)
    least = cut(cone, CutSettings(elongation_percent=200, safe_share_percent=50, least_slit_mm=0))
    top = least.slit_mm[-1, 2] - RISER
    assert 20 - 100 / GIRTH_CELLS <= top <= 20 + 1e-6


def test_a_ball_on_a_small_base_is_slit_to_where_its_girth_will_pass():
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
    height = 40 * np.cos(low) - np.sqrt(40**2 - (40 / 1.8) ** 2)  # r = 40 / (1 + 0.8)
    top = found.slit_mm[-1, 2] - RISER
    assert height - 80 / GIRTH_CELLS <= top <= height + 0.01


def test_a_slit_past_nine_tenths_of_the_height_makes_two_halves():
    cone = shapes.turned([(0, 0), (10, 0), (40, 100), (0, 100)])
    found = cut(cone, soft(0.05))  # r = 40 / 1.05 = 38.1, 94 % of the way up
    assert found.kind == "two halves"
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 100, abs=1e-3)
    assert [notice.code for notice in found.warnings] == ["two_halves"]
    assert cut(cone, soft(0.2)).kind == "one slit"  # r = 33.3, 78 %


def test_a_low_piece_is_slit_to_its_top_and_no_further():
    found = cut(shapes.cylinder(20, 12))
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 12, abs=1e-3)
    assert found.kind == "one slit"


def test_size_does_not_change_the_stretch_and_scales_the_slit():
    settings = CutSettings(least_slit_mm=0)
    small = cut(mushroom(), settings)
    double = mushroom().with_vertices(2 * mushroom().vertices)
    large = cut(double, settings, inner_diameter_mm=320.0)
    assert large.needed_stretch == pytest.approx(small.needed_stretch, rel=1e-9)
    assert large.slit_length_mm == pytest.approx(2 * small.slit_length_mm, rel=1e-4)


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
    assert cut(fine).slit_length_mm == pytest.approx(cut(coarse).slit_length_mm, abs=1e-3)
