"""Polygons as triangles, places as vertices."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.files.polygons import fans, welded
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import enclosed_volume_ml, open_edges
from tests import shapes


def test_polygon_of_n_corners_has_n_less_two_triangles():
    counts = np.array([3, 2, 7, 0, 4])
    triangles = fans(np.arange(counts.sum()), counts)
    assert len(triangles) == 1 + 5 + 2
    assert triangles[1:6].tolist() == [[5, 6 + k, 7 + k] for k in range(5)]


def test_fan_of_a_hollow_polygon_has_its_area():
    # an L of 3 unit squares, begun at each corner in turn; area 3 by counting squares
    outline = np.array([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]], float)
    for start in range(6):
        turned = np.roll(outline, start, axis=0)
        a, b, c = (turned[fans(np.arange(6), np.array([6]))[:, k]] for k in range(3))
        areas = np.linalg.det(np.stack([b - a, c - a], axis=1)) / 2
        assert areas.sum() == pytest.approx(3.0)


def test_weld_closes_loose_triangles_and_keeps_order():
    ball = shapes.sphere(10, 24)
    loose = ball.corners.reshape(-1, 3)
    vertices, faces = welded(loose, np.arange(len(loose)).reshape(-1, 3))
    assert len(vertices) == len(ball.vertices)
    assert np.array_equal(vertices[faces], ball.corners)
    assert faces.ravel()[0] == 0
    assert (np.diff(np.maximum.accumulate(faces.ravel())) <= 1).all()  # numbered as they come
    mesh = Mesh(vertices, faces)
    assert len(open_edges(mesh)) == 0
    assert enclosed_volume_ml(mesh) == pytest.approx(enclosed_volume_ml(ball))


def test_places_that_differ_in_the_last_digit_stay_apart():
    near = np.nextafter(1.0, 2.0)
    vertices, faces = welded(
        np.array([[0, 0, 0], [1, 0, 0], [near, 0, 1.0]]), np.array([[0, 1, 2]])
    )
    assert len(vertices) == 3
    assert faces.tolist() == [[0, 1, 2]]
