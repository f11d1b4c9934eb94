"""Normals averaged over the neighbourhood."""

import numpy as np
import pytest

from blender_addon.core.geometry import smooth
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.smooth import smooth_normals
from tests import shapes


def roof(slope=0.5):
    """Return a strip of four triangles over a gentle ridge along y, open all round."""
    vertices = [[-2, 0, 0], [-2, 2, 0], [0, 0, slope], [0, 2, slope], [2, 0, 0], [2, 2, 0.0]]
    return Mesh(vertices, [[0, 2, 1], [1, 2, 3], [2, 4, 3], [3, 4, 5]])


def test_a_face_takes_a_quarter_from_each_side_and_keeps_its_own_where_there_is_none(monkeypatch):
    monkeypatch.setattr(smooth, "MOST_SMOOTHING", 1)  # by hand: one step along a chain of four
    mesh = roof()
    own = np.array(mesh.vectors_mm2)
    by_hand = np.array([
        3 * own[0] + own[1], own[0] + 2 * own[1] + own[2], own[1] + 2 * own[2] + own[3],
        own[2] + 3 * own[3],
    ])  # fmt: skip
    by_hand /= np.linalg.norm(by_hand, axis=1)[:, None]
    assert smooth_normals(mesh, 50.0) == pytest.approx(by_hand, abs=1e-12)


def test_a_crisp_edge_is_not_crossed():
    box = shapes.box((10.0, 10.0, 10.0))
    assert smooth_normals(box, 50.0) == pytest.approx(smooth_normals(box, 0.0), abs=1e-12)


def test_noise_of_a_ball_is_averaged_out_and_its_own_slopes_stay():
    ball = shapes.sphere(20.0, 48)
    noise = np.random.default_rng(5).normal(0.0, 0.2, (len(ball.vertices), 1))
    rough = ball.with_vertices(ball.vertices * (1.0 + noise / 20.0))
    middles = ball.corners.mean(axis=1)
    away = middles / np.linalg.norm(middles, axis=1)[:, None]
    before, after = (
        np.einsum("ij,ij->i", smooth_normals(rough, radius), away) for radius in (0.0, 3.0)
    )
    assert 1.0 - after.mean() < 0.25 * (1.0 - before.mean())


def test_turning_the_mesh_turns_its_normals():
    mesh, turn = roof(), np.array([[0.0, -1, 0], [1, 0, 0], [0, 0, 1]])
    turned = mesh.with_vertices(mesh.vertices @ turn.T)
    assert smooth_normals(turned, 3.0) == pytest.approx(smooth_normals(mesh, 3.0) @ turn.T)
