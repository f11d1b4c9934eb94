"""Patches made finer, with edges that are never made, and surfaces made smooth."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.geometry.edges import edge_lengths_mm, edges_of
from blender_addon.core.geometry.fair import faired
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.refine import refined
from blender_addon.core.geometry.solid import area_cm2
from tests import shapes

NONE = np.zeros((0, 2), dtype=np.int64)


def fan(count, radius):
    """Return a circle's corners, spanned by long triangles from one corner."""
    angle = 2.0 * pi * np.arange(count) / count
    points = radius * np.column_stack([np.cos(angle), np.sin(angle), np.zeros(count)])
    ahead = np.arange(1, count - 1)
    return points, np.column_stack([np.zeros(count - 2, int), ahead, ahead + 1])


def test_a_disc_of_slivers_becomes_even_triangles_and_keeps_its_area_and_rim():
    points, faces = fan(60, 20.0)
    side = 2.0 * 20.0 * np.sin(pi / 60.0)
    vertices, fine, parent = refined(points, faces, np.full(60, side), NONE)
    mesh = Mesh(vertices, fine)
    assert area_cm2(mesh) == pytest.approx(area_cm2(Mesh(points, faces)))
    assert (mesh.vectors_mm2[:, 2] > 0.0).all()
    lengths = edge_lengths_mm(vertices, mesh.edges)
    assert lengths.max() < 4.0 / 3.0 * side + 1e-9
    rim = edges_of(fine, len(vertices))
    assert np.count_nonzero(rim.uses == 1) == 60
    assert rim.ends[rim.uses == 1].max() < 60
    assert set(parent) <= set(range(len(faces)))
    # smallest angle of most triangles: even ones have 60 degrees
    corners = mesh.corners
    u, v = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    assert np.median(np.linalg.norm(np.cross(u, v), axis=1)) > 0.3 * side**2


def test_no_edge_is_made_that_is_taken():
    # By hand: a kite whose long diagonal would be flipped to the short one.
    points = np.array([[-5.0, 0, 0], [5, 0, 0], [0, 1, 0], [0, -1, 0]])
    faces = np.array([[0, 1, 2], [1, 0, 3]])
    size = np.full(4, 100.0)
    _, flipped, _ = refined(points, faces, size, NONE)
    _, kept, _ = refined(points, faces, size, np.array([[3, 2]]))
    assert {2, 3} <= set(flipped[0].tolist())
    assert kept.tolist() == faces.tolist()


def test_a_dented_ball_is_made_round_again():
    ball = shapes.sphere(30.0, 64)
    dent = ball.vertices[:, 0] > 25.0
    dented = ball.vertices - np.where(dent, 4.0, 0.0)[:, None] * (1.0, 0.0, 0.0)
    mended = faired(Mesh(dented, ball.faces), dent)
    assert np.linalg.norm(mended[dent], axis=1) == pytest.approx(30.0, abs=0.4)  # of a dent of 4 mm
    np.testing.assert_array_equal(mended[~dent], ball.vertices[~dent])


def test_nothing_free_moves_nothing():
    ball = shapes.sphere(30.0, 32)
    np.testing.assert_array_equal(faired(ball, np.zeros(len(ball.vertices), bool)), ball.vertices)
