import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from tests import shapes
from tests.core.voxels import solid_voxels


def _volume(voxels):
    return np.count_nonzero(voxels.inside) * voxels.pitch_mm**3


def _assert_border_is_empty(voxels):
    assert voxels.inside.any()
    assert voxels.inside[1:-1, 1:-1, 1:-1].sum() == voxels.inside.sum()


def test_a_box_on_the_grid_fills_its_cells_and_no_other():
    voxels = solid_voxels(shapes.box((10, 20, 30)), 2.0)
    assert voxels.inside.shape == (7, 12, 17)
    assert np.argwhere(voxels.inside).min(axis=0).tolist() == [1, 1, 1]
    assert np.count_nonzero(voxels.inside) == 5 * 10 * 15
    assert voxels.centers_mm(np.array([[1, 1, 1]])).tolist() == [[1.0, 1.0, 1.0]]
    assert voxels.cells_of(np.array([[1.9, 0.1, 2.1]])).tolist() == [[1, 1, 2]]


def test_lines_through_edges_and_vertices_count_once():
    pyramid = shapes.turned([(0, 0), (8, 0), (0, 8)], 4)  # edges in the planes x = 0 and y = 0
    voxels = solid_voxels(pyramid.with_vertices(pyramid.vertices + 0.5), 1.0)
    _assert_border_is_empty(voxels)
    assert _volume(voxels) == pytest.approx(2 * 8 * 8 * 8 / 3, rel=0.08)


@pytest.mark.parametrize("seed", range(4))
def test_a_closed_mesh_never_leaks_into_a_line(seed):
    turn = np.eye(4)
    turn[:3, :3] = Rotation.random(random_state=seed).as_matrix()
    snapped = shapes.torus(30, 10, 64).moved(turn)
    snapped = snapped.with_vertices(np.round(snapped.vertices))  # full of ties with the grid
    voxels = solid_voxels(snapped, 1.0)
    _assert_border_is_empty(voxels)


@pytest.mark.parametrize(
    ("mesh", "exact_mm3"),
    [(shapes.sphere(50), 4 / 3 * np.pi * 50**3), (shapes.torus(60, 15), 2 * np.pi**2 * 60 * 15**2)],
    ids=["sphere", "torus"],
)
def test_round_bodies_hold_their_closed_form(mesh, exact_mm3):
    assert _volume(solid_voxels(mesh, 1.0)) == pytest.approx(exact_mm3, rel=2e-3)


def test_overlapping_and_inside_out_pieces_are_inside_once():
    first, second = shapes.box((10, 10, 10)), shapes.box((10, 10, 10), (5, 0, 0))
    apart = shapes.box((10, 10, 10), (20, 0, 0))
    flipped = type(apart)(apart.vertices, apart.faces[:, ::-1])
    voxels = solid_voxels(shapes.joined(first, second, flipped), 1.0)
    assert np.count_nonzero(voxels.inside) == 1500 + 1000
    assert voxels.miscounted == 500 + 2 * 1000  # what lies inside out is taken off instead of added
