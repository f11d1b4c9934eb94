"""Discs that touch a bore from inside."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.geometry.plan import edge_distances_mm
from blender_addon.core.geometry.tangent import tangent_radii_at_points_mm, tangent_radii_mm


def walls(seed, count=40):
    random = np.random.default_rng(seed)
    angle = random.uniform(0, 2 * np.pi, count)
    backs = np.column_stack([np.cos(angle), np.sin(angle)])
    return 100 * backs, backs


def test_disc_between_two_walls_of_a_corner_is_the_known_one():
    # a corner at 0 with both arms along the axes; wall at distance d along the diagonal:
    # r sqrt(2) + r = d
    edges = np.array([[[0, 0], [200, 0]], [[0, 200], [0, 0]]], float)
    way = np.array([[np.sqrt(0.5), np.sqrt(0.5)]])
    radius = tangent_radii_mm(60 * way, way, edges)
    assert radius == pytest.approx(60 / (1 + np.sqrt(2)), rel=1e-12)


@pytest.mark.parametrize("seed", range(4))
def test_disc_comes_as_near_to_the_edges_as_it_is_wide(seed):
    edges = np.random.default_rng(seed).uniform(-50, 50, (30, 2, 2))
    at, backs = walls(seed)
    radii = tangent_radii_mm(at, backs, edges)
    middles = at - radii[:, None] * backs
    assert edge_distances_mm(middles, edges) == pytest.approx(radii, rel=1e-9)


def test_disc_meets_points_at_no_less_than_edges_through_them():
    edges = np.random.default_rng(9).uniform(-50, 50, (30, 2, 2))
    at, backs = walls(9)
    points = tangent_radii_at_points_mm(at, backs, edges.reshape(-1, 2))
    assert (points >= tangent_radii_mm(at, backs, edges)).all()


def test_what_lies_beyond_the_wall_never_bounds_a_disc():
    wall, back = np.array([[0.0, 10.0]]), np.array([[0.0, 1.0]])
    beyond = np.array([[[-5.0, 12.0], [5.0, 11.0]]])
    assert tangent_radii_mm(wall, back, beyond).tolist() == [np.inf]
