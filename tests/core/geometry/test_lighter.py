"""A lighter mesh to look at: how far off it is, and which given faces each of its faces is for."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from scipy.spatial import cKDTree

from blender_addon.core.geometry.lighter import Lighter, lighter
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import face_areas_mm2
from tests import scans, shapes

MOST = 2_000


def _vectors_mm(mesh):
    return mesh.vectors_mm2 / np.linalg.norm(mesh.vectors_mm2, axis=1, keepdims=True)


def _sheet(cells, size_mm=30.0, z_mm=0.0, *, up=True):
    """Return a level square of triangles."""
    line = np.linspace(0.0, size_mm, cells + 1)
    x, y = np.meshgrid(line, line, indexing="ij")
    corner = np.arange((cells + 1) ** 2).reshape(cells + 1, cells + 1)
    a, b, c, d = (corner[i : cells + i, j : cells + j].ravel() for i, j in
                  ((0, 0), (1, 0), (1, 1), (0, 1)))  # fmt: skip
    faces = np.vstack([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    vertices = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, z_mm)])
    return Mesh(vertices, faces if up else faces[:, ::-1])


def test_hand_case_two_corners_in_a_cell_become_one_and_the_sliver_goes_to_its_neighbor():
    corners = [[0, 0, 0], [30, 0, 0], [30, 30, 0], [0, 30, 0], [1, 30, 0]]
    found = lighter(Mesh(corners, [[0, 1, 2], [0, 2, 4], [0, 4, 3]]), 2)
    assert sorted(found.mesh.vertices.tolist()) == [
        [0, 0, 0], [0.5, 30, 0], [30, 0, 0], [30, 30, 0],  # the mean of two, and the others
    ]  # fmt: skip
    assert found.mesh.vectors_mm2[:, 2] == pytest.approx([450.0, 0.5 * 29.5 * 30.0])
    assert found.face_of.tolist() == [0, 1, 1]
    assert found.off_mm == 0.5


def test_hand_case_two_layers_in_the_same_cells_are_one_face_whichever_corner_comes_first():
    layer = [[0, 0, 0], [30, 0, 0], [0, 30, 0]]
    upper = [[x, y, 0.25] for x, y, _ in layer]
    mesh = Mesh([*layer, *upper, [0.25, 0.25, 0.25]], [[0, 1, 2], [4, 5, 3], [0, 3, 6]])
    found = lighter(mesh, 2)
    assert len(found.mesh.faces) == 1
    assert found.face_of.tolist() == [0, 0, 0]
    lower = lighter(Mesh(mesh.vertices, [[0, 1, 2], [4, 3, 5], [0, 3, 6]]), 2)
    assert len(lower.mesh.faces) == 2  # turned the other way round it is another one
    assert sorted(np.sign(lower.mesh.vectors_mm2[:, 2])) == [-1.0, 1.0]


def test_a_mesh_with_no_more_faces_than_wanted_is_returned_as_it_is():
    ball = shapes.sphere(20.0, 24)
    found = lighter(ball, len(ball.faces))
    assert found.mesh is ball
    assert np.array_equal(found.face_of, np.arange(len(ball.faces)))
    assert found.off_mm == 0.0


def test_a_mesh_that_no_grid_makes_lighter_is_returned_as_it_is():
    far = [shapes.box((1e-6, 1e-6, 1e-6), (100.0 * k, 0.0, 0.0)) for k in range(20)]
    soup = shapes.joined(*far)
    assert lighter(soup, 5).mesh is soup


@pytest.mark.parametrize("make", [
    lambda: shapes.sphere(20.0, 96),
    lambda: shapes.torus(30.0, 8.0, 96),
    lambda: shapes.refined(shapes.refined(shapes.tilted(shapes.cup(20.0, 15.0), 33.0))),
    lambda: shapes.joined(_sheet(60), _sheet(60, z_mm=-0.4, up=False)),
    scans.bunny,
    scans.dragon,
], ids=["ball", "ring", "tilted cup", "thin wall", "bunny", "dragon"])  # fmt: skip
class TestEveryGivenFaceBelongsToOne:
    @pytest.fixture
    def mesh(self, make):
        given = make()
        size_mm = np.ptp(given.vertices, axis=0).max()
        return given.with_vertices(given.vertices * (100.0 / size_mm))

    def test_none_is_lost_and_none_of_the_lighter_ones_is_without(self, mesh):
        found = lighter(mesh, MOST)
        assert 0.5 * MOST < len(found.mesh.faces) <= MOST
        assert found.face_of.shape == (len(mesh.faces),)
        counts = np.bincount(found.face_of, minlength=len(found.mesh.faces))
        assert len(counts) == len(found.mesh.faces)
        assert counts.min() >= 1
        assert found.gathered(np.ones(len(mesh.faces), dtype=int), np.add).tolist() == (
            counts.tolist()
        )

    def test_it_is_off_by_no_more_than_is_said_by_the_judgement_of_another_library(self, mesh):
        found = lighter(mesh, MOST)
        weights = np.random.default_rng(7).dirichlet((1.0, 1.0, 1.0), len(found.mesh.faces))
        points = np.einsum("mkx,mk->mx", found.mesh.corners, weights)[::5]
        _, near = cKDTree(mesh.corners.mean(axis=1)).query(points, 100)
        many = np.repeat(points, 100, axis=0)
        touched = trimesh.triangles.closest_point(mesh.corners[near.ravel()], many)
        off_mm = np.linalg.norm(many - touched, axis=1).reshape(-1, 100).min(axis=1)
        assert off_mm.max() <= found.off_mm + 1e-9
        assert off_mm.max() > 0.0
        assert found.off_mm < 100.0 * np.sqrt(8.0 / MOST) * np.sqrt(3.0)  # a cell's diagonal

    def test_what_it_stands_for_is_near_and_turned_the_same_way(self, mesh):
        found = lighter(mesh, MOST)
        middles, normals = mesh.corners.mean(axis=1), _vectors_mm(mesh)
        shown = found.mesh.corners.mean(axis=1)[found.face_of]
        apart_mm = np.linalg.norm(middles - shown, axis=1)
        assert np.percentile(apart_mm, 99) < 3.0 * found.off_mm
        agree = (normals * _vectors_mm(found.mesh)[found.face_of]).sum(axis=1) > 0.0
        area = face_areas_mm2(mesh)
        assert area[agree].sum() > 0.9 * area.sum()


def test_the_two_sides_of_a_wall_thinner_than_a_cell_keep_their_own_faces():
    wall = shapes.joined(_sheet(60), _sheet(60, z_mm=-0.4, up=False))
    found = lighter(wall, MOST)
    upper = wall.vectors_mm2[:, 2] > 0.0
    assert np.array_equal(found.mesh.vectors_mm2[found.face_of, 2] > 0.0, upper)


def test_faces_of_a_ball_are_inside_it_by_no_more_than_the_cell_allows():
    ball = shapes.sphere(20.0, 192)
    found = lighter(ball, MOST)
    radii = np.linalg.norm(found.mesh.vertices, axis=1)
    assert radii.max() <= 20.0 + 1e-9  # a mean of points of a ball is never outside
    assert radii.min() >= 20.0 - found.off_mm
    assert 0.97 < face_areas_mm2(found.mesh).sum() / (4.0 * np.pi * 20.0**2) < 1.0


def test_size_and_place_change_nothing():
    ball = shapes.tilted(shapes.sphere(20.0, 96), 20.0)
    near, far = lighter(ball, MOST), lighter(ball.with_vertices(ball.vertices * 64.0 + 512.0), MOST)
    assert np.array_equal(near.face_of, far.face_of)
    assert far.mesh.vertices == pytest.approx(near.mesh.vertices * 64.0 + 512.0)
    assert far.off_mm == pytest.approx(64.0 * near.off_mm)


def test_a_turned_or_finer_piece_is_shown_as_finely():
    ring = shapes.torus(30.0, 8.0, 96)
    counts = [len(lighter(one, MOST).mesh.faces)
              for one in (ring, shapes.tilted(ring, 41.0), shapes.refined(ring))]  # fmt: skip
    assert min(counts) > 0.7 * MOST
    assert max(counts) <= MOST


def test_vertices_that_no_face_uses_do_not_count():
    ball = shapes.sphere(20.0, 96)
    stray = Mesh(np.vstack([[[900.0, 0, 0]], ball.vertices]), ball.faces + 1)
    found, wanted = lighter(stray, MOST), lighter(ball, MOST)
    assert np.array_equal(found.face_of, wanted.face_of)
    assert np.array_equal(found.mesh.vertices, wanted.mesh.vertices)


def test_gathered_values_are_those_of_the_faces_that_are_stood_for():
    mesh = shapes.box((2, 2, 2))
    found = Lighter(Mesh(mesh.vertices, mesh.faces[:3]), np.arange(12) % 3, 1.0)
    values = np.arange(12) * 10
    assert found.gathered(values, np.maximum).tolist() == [90, 100, 110]
    assert found.gathered(values, np.minimum).tolist() == [0, 10, 20]
    assert found.gathered(values == 70, np.logical_or).tolist() == [False, True, False]


def test_an_area_painted_by_its_faces_is_the_painted_area_within_a_face_round_it():
    ball = shapes.sphere(20.0, 192)
    found = lighter(ball, MOST)
    cap = found.mesh.corners.mean(axis=1)[:, 2] > 10.0  # a zone's area is 2 pi r h
    painted_mm2 = face_areas_mm2(ball)[cap[found.face_of]].sum()
    round_mm2 = 2.0 * np.pi * 20.0 * np.sin(np.pi / 3.0) * 2.0 * found.off_mm
    assert abs(painted_mm2 - 2.0 * np.pi * 20.0 * 10.0) < round_mm2


def test_a_sliver_goes_to_the_nearest_face_by_comparing_with_all():
    mesh = shapes.torus(30.0, 8.0, 96)
    found = lighter(mesh, MOST)

    def lifted(one):
        return one.corners.mean(axis=1) + found.off_mm * _vectors_mm(one)

    given, shown = lifted(mesh)[::31], lifted(found.mesh)
    gaps_mm = np.linalg.norm(given[:, None] - shown[None], axis=2)
    own_mm = gaps_mm[np.arange(len(given)), found.face_of[::31]]
    farther = own_mm > gaps_mm.min(axis=1) + 1e-9
    assert farther.mean() < 0.5  # these kept three corners, and belong to what they became
    assert own_mm.max() < 3.0 * found.off_mm
