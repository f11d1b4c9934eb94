import numpy as np
import pytest
import trimesh

from blender_addon.core.geometry.surface_distance import (
    SampledSurface,
    surface_samples,
    triangle_distances_squared,
)
from tests import shapes


def _least_mm(point, corners):
    every = np.tile(point, (len(corners), 1))
    return np.linalg.norm(every - trimesh.triangles.closest_point(corners, every), axis=1).min()


def test_samples_lie_on_their_triangles_no_farther_apart_than_the_spacing():
    corners = shapes.box((10, 4, 1)).corners
    points, face = surface_samples(corners, 0.5)
    assert triangle_distances_squared(points, corners[face]).max() < 1e-20
    rng = np.random.default_rng(5)
    weights = rng.dirichlet([1, 1, 1], 500)
    spots = np.einsum("ij,ijk->ik", weights, corners[rng.integers(0, len(corners), 500)])
    gaps = np.linalg.norm(spots[:, None] - points[None], axis=2).min(axis=1)
    assert gaps.max() < 0.5


def test_point_and_triangle_agree_with_another_library():
    rng = np.random.default_rng(1)
    corners, points = rng.normal(size=(4000, 3, 3)), 2 * rng.normal(size=(4000, 3))
    nearest = trimesh.triangles.closest_point(corners, points)
    other = np.linalg.norm(points - nearest, axis=1)
    assert np.sqrt(triangle_distances_squared(points, corners)) == pytest.approx(other, abs=1e-9)


def test_a_triangle_without_area_is_its_longest_edge():
    line = np.array([[[0.0, 0, 0], [1, 0, 0], [3, 0, 0]]])
    assert triangle_distances_squared(np.array([[2.0, 4, 0]]), line)[0] == pytest.approx(16.0)


def test_distance_in_a_box_is_that_of_its_nearest_wall():
    rng = np.random.default_rng(2)
    points = rng.uniform(1, 49, size=(3000, 3))
    surface = SampledSurface(shapes.box((50, 50, 50)).corners, 1.0)
    exact = np.minimum(points, 50 - points).min(axis=1)  # closed form
    assert surface.distances_mm(points) == pytest.approx(exact, abs=0.02)


def test_distance_never_falls_short_of_the_least_over_all_triangles():
    rng = np.random.default_rng(3)
    ball = shapes.sphere(20, 96)
    points = rng.uniform(-12, 12, size=(60, 3))
    found = SampledSurface(ball.corners, 1.0).distances_mm(points)
    exact = [_least_mm(point, ball.corners) for point in points]
    assert (found >= np.array(exact) - 1e-12).all()
    assert found == pytest.approx(exact, abs=1e-3)
