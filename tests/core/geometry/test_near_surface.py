"""The nearest points on triangles, though most of those that lie near are not looked at."""

import numpy as np
import pytest

from blender_addon.core.geometry.near_surface import NearSurface, nearest_on_triangles


@pytest.mark.parametrize("long", [1.0, 8.0])
@pytest.mark.parametrize("off_mm", [0.0, 0.3, 5.0])
def test_no_triangle_that_is_left_out_is_nearer(long, off_mm):
    chance = np.random.default_rng(3)
    middles = chance.uniform(-10.0, 10.0, (400, 1, 3))
    corners = middles + chance.normal(0.0, 0.6, (400, 3, 3)) * [long, 1.0, 1.0]
    surface = NearSurface(corners)
    points = corners[chance.integers(0, 400, 60)].mean(axis=1)
    points += off_mm * chance.normal(0.0, 1.0, points.shape)
    spots, faces = surface.nearest(points)
    # the plain way: of the triangles whose middles are nearest, all are measured
    away = np.linalg.norm(corners.mean(axis=1) - points[:, None], axis=2)
    tried = np.argsort(away, axis=1)[:, :16]
    for point, near, spot, face in zip(points, tried, spots, faces, strict=True):
        every = nearest_on_triangles(np.tile(point, (len(near), 1)), corners[near])
        far = np.linalg.norm(every - point, axis=1)
        assert face in near
        assert np.linalg.norm(spot - point) == pytest.approx(far.min(), abs=1e-12)
