"""Convex outlines and the circles round them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize

from blender_addon.core.errors import UnusableMeshError
from blender_addon.core.geometry.hull import hull_corners, smallest_circle

# Closed forms: two points span it, or the circle through three; the last two have four or more.
CIRCLES = [
    ([(0, 0), (60, 0), (30, 40)], (30, 8.75), 31.25),
    ([(0, 0), (80, 0), (80, 60), (0, 60), (40, 75), (40, -10), (-4, 30)], (40, 30), 50),
    ([(0, 0), (100, 0), (50, 10)], (50, 0), 50),
    ([(0, 0), (70, 10), (55, 62), (12, 48), (33, -14)], (31.8351, 27.1544), 41.8429),
    ([(0, 0), (10, 0), (10, 10), (0, 10)], (5, 5), 5 * np.sqrt(2)),
    ([(3, 4), (3, 4)], (3, 4), 0),
]


@pytest.mark.parametrize(("points", "centre", "radius"), CIRCLES)
def test_smallest_circle_is_the_known_one(points, centre, radius):
    found, size = smallest_circle(np.array(points, float))
    assert found == pytest.approx(centre, abs=1e-4)
    assert size == pytest.approx(radius, abs=1e-4)


@pytest.mark.parametrize("seed", range(8))
def test_smallest_circle_holds_all_and_no_other_centre_does_better(seed):
    points = np.random.default_rng(seed).normal(size=(400, 2)) * [60, 20] + [500, -300]
    centre, radius = smallest_circle(points)
    assert np.linalg.norm(points - centre, axis=1).max() <= radius * (1 + 1e-12)
    other = minimize(  # a general optimizer from scipy, on the convex function of the centre
        lambda at: np.linalg.norm(points - at, axis=1).max(),
        points.mean(axis=0),
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-9, "maxiter": 4000},
    )
    assert radius == pytest.approx(other.fun, rel=1e-6)
    assert radius <= other.fun + 1e-9


def test_smallest_circle_of_a_regular_polygon_goes_through_all_corners():
    angle = 2 * np.pi * np.arange(192) / 192
    centre, radius = smallest_circle(np.column_stack([30 * np.cos(angle), 30 * np.sin(angle)]))
    assert centre == pytest.approx((0, 0), abs=1e-9)
    assert radius == pytest.approx(30, rel=1e-12)


def test_hull_goes_round_counter_clockwise():
    points = np.random.default_rng(3).normal(size=(200, 2))
    corners = hull_corners(points)
    x, y = corners.T
    assert x @ np.roll(y, -1) - y @ np.roll(x, -1) > 0


@pytest.mark.parametrize(
    "points", [np.zeros((0, 2)), np.zeros((2, 2)), np.array([[0, 0], [1, 1], [2, 2.0], [5, 5]])]
)
def test_points_without_width_are_refused(points):
    with pytest.raises(UnusableMeshError, match="no width seen from above"):
        hull_corners(points)
