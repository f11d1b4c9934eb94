"""Convex outlines: hand cases, Steiner's formula, and what cutting keeps."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from blender_addon.core.geometry.convex import (
    area_mm2,
    centroid_mm,
    clipped,
    rounded,
    spread_of,
)

SQUARE = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]])


def circle(radius, count=256):
    angle = np.linspace(0, 2 * np.pi, count, endpoint=False)
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


@pytest.mark.parametrize("degrees", [0.0, 37.0, 180.0])
def test_a_cut_keeps_what_lies_on_one_side(degrees):
    way = np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    kept = clipped(circle(10.0), way, 3.0)
    assert (kept @ way).max() == pytest.approx(3.0)
    rest = clipped(circle(10.0), -way, -3.0)
    assert area_mm2(kept) + area_mm2(rest) == pytest.approx(area_mm2(circle(10.0)))


def test_a_cut_beside_an_outline_takes_all_or_nothing():
    assert clipped(SQUARE, np.array([1.0, 0.0]), 50.0).tolist() == SQUARE.tolist()
    assert clipped(SQUARE, np.array([1.0, 0.0]), -1.0).shape == (0, 2)


def test_a_rounded_square_loses_its_corners_by_hand():
    # 30 mm wide after the inset, each corner of 5 mm takes (1 - pi / 4) 25 mm2
    soft = rounded(SQUARE, 5.0, 5.0)
    assert area_mm2(soft) == pytest.approx(900 - (4 - np.pi) * 25, rel=1e-3)
    assert area_mm2(soft) < 900 - (4 - np.pi) * 25 + 1e-9 + 0.2


def test_an_outline_that_is_all_inset_is_gone():
    assert rounded(SQUARE, 15.0, 6.0).shape == (0, 2)


def test_spreading_a_circle_gives_the_wider_circle():
    # sides touch the circle inside: the same share of area is missing before and after
    spread = spread_of(circle(20.0))
    assert spread.area_mm2(10.0) / spread.area_mm2(0.0) == pytest.approx(30**2 / 20**2, rel=1e-3)
    assert np.hypot(*spread.ring(10.0).T) == pytest.approx(30.0, abs=1e-3)


@pytest.mark.parametrize("by", [0.0, 1.0, 7.5])
def test_the_area_by_the_polynomial_is_that_of_the_ring(by):
    spread = spread_of(rounded(SQUARE, 2.0, 6.0))
    judge = ConvexHull(spread.ring(by)).volume  # of a plan, scipy's volume is its area
    assert spread.area_mm2(by) == pytest.approx(judge, rel=1e-12)


def test_a_point_on_a_side_goes_straight_out():
    halved = np.insert(SQUARE, 1, [20.0, 0.0], axis=0)
    assert spread_of(halved).ring(3.0)[1].tolist() == [20.0, -3.0]


def test_the_middle_moves_with_the_outline():
    assert centroid_mm(circle(5.0) + [30.0, -4.0]) == pytest.approx((30.0, -4.0))


@pytest.mark.parametrize("seed", range(40))
def test_what_is_rounded_spreads_by_steiner_whatever_the_corners(seed):
    # a side of almost no length has no direction: spread, it would fly off
    random = np.random.default_rng(seed)
    outline = circle(30.0, 7 + seed) + random.normal(0, 3, (7 + seed, 2))
    hull = outline[ConvexHull(outline).vertices]
    girth = np.linalg.norm(np.roll(hull, -1, axis=0) - hull, axis=1).sum()
    soft = rounded(rounded(hull, 0.0, 3.0), 1.0, 1.0)
    wide = spread_of(soft).ring(30.0)
    found = np.linalg.norm(np.roll(wide, -1, axis=0) - wide, axis=1).sum()
    own = np.linalg.norm(np.roll(soft, -1, axis=0) - soft, axis=1).sum()
    assert own < girth
    # corners turn by 7.5 degrees where they are rounded: 2 tan(a / 2) is 0.15 % more than the arc
    assert own + 2 * np.pi * 30 < found < own + 2 * np.pi * 30 * 1.01
