"""Where the axis may pass."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.case.room import Room
from blender_addon.core.geometry.hull import hull_corners, smallest_circle


def room_about(points, spare_mm):
    corners = hull_corners(np.asarray(points, float))
    middle, radius = smallest_circle(corners)
    return Room(corners, middle, radius + spare_mm)


def ways(count):
    angle = 2 * np.pi * np.arange(count) / count
    return np.column_stack([np.cos(angle), np.sin(angle)])


def test_room_about_two_points_is_the_lens_of_two_circles():
    room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
    farthest = room.farthest(ways(4))
    assert farthest == pytest.approx(np.array([[2, 0], [0, 4], [-2, 0], [0, -4]]), abs=1e-12)


def test_room_about_a_round_master_is_a_disc_of_what_is_spare():
    # corners on a circle: the room's edge lies between spare and spare + R (1 - cos(pi / n))
    angle = 2 * np.pi * np.arange(192) / 192
    room = room_about(np.column_stack([30 * np.cos(angle), 30 * np.sin(angle)]), 7.0)
    far = np.linalg.norm(room.farthest(ways(97)), axis=1)
    assert (far >= 7 - 1e-9).all()
    assert (far <= 7 + 30 * (1 - np.cos(np.pi / 192)) / np.cos(np.pi / 192)).all()


@pytest.mark.parametrize("spare_mm", [1e-6, 0.01, 1.0, 30.0])
@pytest.mark.parametrize(("seed", "count"), [(0, 3), (1, 4), (2, 30), (3, 400), (4, 3000)])
def test_farthest_point_belongs_to_the_room_and_none_lies_farther(seed, count, spare_mm):
    points = np.random.default_rng(seed).normal(size=(count, 2)) * [20, 30]
    room = room_about(points, spare_mm)
    found = room.farthest(ways(41))
    off = np.linalg.norm(found[:, None] - points, axis=2).max(axis=1)
    assert (off <= room.reach_mm + 1e-9).all()
    ring = room.edge(np.linspace(0, 2 * np.pi, 20001))
    reached = (ways(41) * found).sum(axis=1)
    assert (reached >= (ways(41) @ ring.T).max(axis=1) - 1e-9).all()


def test_nearest_point_is_the_point_itself_inside_and_on_the_way_outside():
    room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
    assert room.nearest(np.array([1.0, 1.0])) == pytest.approx((1, 1))
    assert room.nearest(np.array([9.0, 0.0])) == pytest.approx((2, 0), abs=1e-6)
    assert room.nearest(np.array([0.0, -9.0])) == pytest.approx((0, -4), abs=1e-6)
