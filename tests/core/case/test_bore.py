"""The inside of the case in plan: exact where round, against two libraries where not."""

from __future__ import annotations

import math

import manifold3d
import numpy as np
import pytest
import shapely

from blender_addon.core.case.bore import Bore, round_bore


def egg(seed=3, count=40):
    """Return the convex outline of random points, about their middle."""
    points = np.random.default_rng(seed).normal(size=(count, 2)) * [60, 40]
    (outline,) = manifold3d.CrossSection.hull_points(points).to_polygons()
    return np.asarray(outline)


def polygon_of(bore):
    return shapely.Polygon(bore.outline_mm)


def test_a_round_bore_has_the_circles_own_measures():
    bore = round_bore(160.0)
    assert bore.is_round
    assert bore.area_mm2 == pytest.approx(math.pi * 80**2, rel=1e-15)
    assert bore.girth_mm == pytest.approx(math.pi * 160, rel=1e-15)
    assert bore.inner_diameter_mm == 160
    assert bore.reach_mm == 80
    points = [[0, 0], [30, 40], [60, 80]]
    assert bore.distances_mm(points) == pytest.approx([80, 30, -20], abs=1e-12)
    # from (30, 0) the wall stands 50 mm off towards +x, and sqrt(80^2 - 30^2) towards +y
    reach = bore.reaches_mm([[30, 0], [30, 0]], [[1, 0], [0, 1]])
    assert reach == pytest.approx([50, math.sqrt(5500)])
    assert bore.offset(4.0).is_round
    assert bore.offset(4.0).inner_diameter_mm == 168


def test_outline_of_a_round_bore_touches_the_circle_from_outside():
    outline = round_bore(160.0).outline_mm
    middles = (outline + np.roll(outline, -1, axis=0)) / 2
    assert np.hypot(*middles.T) == pytest.approx(80, rel=1e-12)
    assert polygon_of(round_bore(160.0)).exterior.is_ccw


@pytest.mark.parametrize("seed", range(3))
def test_an_outline_agrees_with_a_general_library(seed):
    bore = Bore(egg(seed))
    shape = polygon_of(bore)
    assert shape.exterior.is_ccw
    assert bore.area_mm2 == pytest.approx(shape.area, rel=1e-12)
    assert bore.girth_mm == pytest.approx(shape.length, rel=1e-12)
    circle = shapely.minimum_bounding_radius(shape)
    assert bore.inner_diameter_mm == pytest.approx(2 * circle, rel=1e-9)
    points = np.random.default_rng(9).uniform(-200, 200, (400, 2))
    off = shapely.distance(shape.exterior, shapely.points(points))
    inside = shapely.contains(shape, shapely.points(points))
    assert inside.any()
    assert bore.distances_mm(points) == pytest.approx(np.where(inside, off, -off), abs=1e-9)


def test_way_to_the_wall_ends_on_the_wall():
    bore = Bore(egg())
    angle = np.linspace(0, 2 * np.pi, 90)
    ways = np.column_stack([np.cos(angle), np.sin(angle)])
    starts = np.tile([10.0, -7.0], (90, 1))
    ends = starts + bore.reaches_mm(starts, ways)[:, None] * ways
    assert bore.distances_mm(ends) == pytest.approx(0, abs=1e-9)
    left, right = bore.seam_x_mm
    assert left < 0 < right
    assert bore.distances_mm([[left, 0], [right, 0]]) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("by_mm", [5.0, -3.0])
def test_offset_outline_keeps_its_distance_everywhere(by_mm):
    bore = Bore(egg())
    moved = bore.offset(by_mm)
    expected = polygon_of(bore).buffer(by_mm, quad_segs=256)
    assert moved.area_mm2 == pytest.approx(expected.area, rel=1e-4)
    rim = shapely.points(shapely.segmentize(polygon_of(moved), 2.0).exterior.coords)
    off = shapely.distance(polygon_of(bore).exterior, rim)
    # inside an outline a parallel corner lies farther off; outside, corners are round
    assert off.min() == pytest.approx(abs(by_mm), abs=1e-3)
    assert by_mm < 0 or off.max() == pytest.approx(by_mm, abs=1e-3)


def test_a_fine_polygon_has_about_the_circles_measures():
    # the same circle taken as any outline: the polygon's area is too large by (pi/n)^2 / 3
    exact, drawn = round_bore(150.0), Bore(round_bore(150.0).outline_mm)
    assert not drawn.is_round
    share = (math.pi / len(drawn.outline_mm)) ** 2 / 3
    assert drawn.area_mm2 == pytest.approx(exact.area_mm2 * (1 + share), rel=1e-7)
    points = np.random.default_rng(1).uniform(-70, 70, (200, 2))
    assert drawn.distances_mm(points) == pytest.approx(exact.distances_mm(points), abs=0.02)


def test_an_outline_is_locked():
    with pytest.raises(ValueError, match="read-only"):
        Bore(egg()).outline_mm[0] = 0
