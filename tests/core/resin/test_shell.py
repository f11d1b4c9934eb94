"""The shell against closed forms: the offset inside the real shape, no shell on the open rim."""

import dataclasses
import functools

import numpy as np
import pytest
import shapely
import trimesh
from scipy.spatial import KDTree
from scipy.spatial.transform import Rotation
from skimage.measure import marching_cubes

from blender_addon.core.errors import CancelledError
from blender_addon.core.geometry.manifold import prism, to_mesh, to_solid
from blender_addon.core.resin.copy import copy_of
from blender_addon.core.resin.shell import cavity_in
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.amounts import resin_of
from tests.core.scans import bunny, standing
from tests.core.voxels import solid_voxels

PI = np.pi


def afloat(mesh):
    """Return a scan result that rubber surrounds on all sides: no base, no riser."""
    scan = standing(mesh, 0.0)
    none = np.zeros(len(mesh.faces), dtype=bool)
    return dataclasses.replace(scan, base_faces=none, riser_outline=())


def shell_ml(scan, shell_mm):
    return resin_of(scan, shell_mm=shell_mm).shell_ml


def polygon_share(segments):
    """Return the area of a polygon by that of its circle."""
    return segments / (2 * PI) * np.sin(2 * PI / segments)


@pytest.mark.parametrize("shell", [1.0, 4.0, 12.0])
def test_in_a_ball(shell):
    exact = 4 / 3 * PI * (50**3 - (50 - shell) ** 3) / 1e3  # closed form; 115.879 for 4 mm
    assert shell_ml(afloat(shapes.sphere(50, 256)), shell) == pytest.approx(exact, rel=2e-3)


@pytest.mark.parametrize("shell", [1.0, 3.0, 5.0])
@pytest.mark.parametrize("size", [(100, 100, 100), (150, 60, 40), (33, 71, 123)])
def test_in_a_box(size, shell):
    # inside sharp edges area x thickness and the tube formula are both wrong: 271 000 mm3 for the
    # cube of 100 with 5 mm, closed form
    exact = (np.prod(size) - np.prod(np.array(size) - 2 * shell)) / 1e3
    assert shell_ml(afloat(shapes.box(size)), shell) == pytest.approx(exact, rel=2e-3)


def test_in_a_ring():
    exact = 2 * PI**2 * 60 * (15**2 - 12**2) / 1e3  # closed form: 95.933, S t - M t2 says the same
    assert shell_ml(afloat(shapes.torus(60, 15, 256)), 3.0) == pytest.approx(exact, rel=2e-3)


def test_in_a_closed_bar():
    exact = PI * (40**2 * 100 - 36**2 * 92) / 1e3  # closed form
    assert shell_ml(afloat(shapes.cylinder(40, 100, 256)), 4.0) == pytest.approx(exact, rel=2e-3)


@pytest.mark.parametrize("riser", [0.0, 6.35])
def test_an_open_bore_gets_no_shell_on_its_rim(riser):
    # bore of radius 40, 150 deep with the riser, coat on wall and floor: closed form
    exact = PI * (40**2 * 150 - 36**2 * 146) / 1e3
    scan = standing(shapes.cylinder(40, 150 - riser, 256), riser)
    assert shell_ml(scan, 4.0) == pytest.approx(exact, rel=2e-3)


def test_a_cone_that_stands_on_its_wide_end():
    # coat normal to the wall: the tip of the cavity lies t / sin(alpha) lower, closed form
    cone = shapes.turned([(0, 0), (40, 0), (0, 120)], 256)
    slope = np.sin(np.arctan(40 / 120))
    cavity = PI / 3 * (40 / 120) ** 2 * (120 - 4 / slope) ** 3 * polygon_share(256)
    exact = (PI / 3 * 40**2 * 120 * polygon_share(256) - cavity) / 1e3
    assert exact == pytest.approx(57.115, rel=1e-3)
    assert shell_ml(standing(cone, 0.0), 4.0) == pytest.approx(exact, rel=2e-3)


def test_round_an_inner_edge_the_shell_turns_in_an_arc():
    # an L of 100 x 100 less 50 x 50, 100 high: the cavity's inner corner is a quarter circle
    solid = _l_shape()
    t = 5.0
    plan = (100 - 2 * t) ** 2 - (50**2 - (1 - PI / 4) * t**2)
    exact = (7500 * 100 - plan * (100 - 2 * t)) / 1e3
    assert shell_ml(afloat(solid), t) == pytest.approx(exact, rel=2e-3)


def _l_shape():
    corners = [[0, 0], [100, 0], [100, 50], [50, 50], [50, 100], [0, 100]]
    return to_mesh(prism([np.array(corners, float)], 0.0, 100.0))


def test_a_shell_does_not_change_when_the_piece_is_turned_or_moved():
    cone = shapes.turned([(0, 0), (40, 0), (20, 60), (0, 60)], 32)
    matrix = np.eye(4)
    matrix[:3, :3] = Rotation.from_euler("z", 25, degrees=True).as_matrix()
    matrix[:3, 3] = 300, -90, 40
    here, there = shell_ml(standing(cone), 3.0), shell_ml(standing(cone.moved(matrix)), 3.0)
    assert there == pytest.approx(here, rel=2e-3)


def test_shell_and_piece_grow_together_by_the_cube():
    ball = shapes.sphere(20, 96)
    small = shell_ml(afloat(ball), 2.0)
    large = shell_ml(afloat(ball.with_vertices(3 * ball.vertices)), 6.0)
    assert large == pytest.approx(27 * small, rel=1e-6)


def test_finer_triangles_do_not_change_the_shell():
    coarse = shapes.box((40, 50, 60))
    fine = shapes.turned([(0, 0), *[(30, z) for z in np.linspace(0, 60, 30)], (0, 60)], 4)
    plain = shapes.turned([(0, 0), (30, 0), (30, 60), (0, 60)], 4)
    assert len(fine.faces) > 10 * len(coarse.faces)
    here, there = shell_ml(standing(plain), 3.0), shell_ml(standing(fine), 3.0)
    assert there == pytest.approx(here, rel=1e-3)


@pytest.mark.once
def test_the_shell_of_a_scan_agrees_with_counting_points_near_its_surface():
    scan = scan_stage(bunny(100.0), ScanSettings(up="+z"), Watch())
    copy = copy_of(scan, 10.0)  # on below the rim, so that no shell grows there
    voxels = solid_voxels(copy_of(scan, 10.0, 1.0).mesh, 0.5)  # with the seam of 1 mm sealed
    cells = np.argwhere(voxels.inside)
    chosen = np.random.default_rng(4).choice(cells, 30000, replace=False)
    points = voxels.centers_mm(chosen)
    corners = copy.mesh.corners[copy.in_rubber]
    body = trimesh.Trimesh(corners.reshape(-1, 3), np.arange(3 * len(corners)).reshape(-1, 3))
    surface, _ = trimesh.sample.sample_surface(body, 300000, seed=4)
    near, _ = KDTree(surface).query(points)
    counted = np.count_nonzero((near <= 3.0) & (points[:, 2] > 0.0)) * len(cells) / len(chosen)
    assert shell_ml(scan, 3.0) == pytest.approx(counted * 0.5**3 / 1e3, rel=0.02)


@pytest.mark.once
@pytest.mark.filterwarnings("ignore:Setting the shape:DeprecationWarning")  # scikit-image's
def test_the_shell_of_a_scan_is_what_the_offset_of_general_libraries_leaves():
    # distances by scipy from points of trimesh, inside by slices of manifold3d in shapely, the
    # offset surface by scikit-image: nothing of ours but the scan
    shell, pitch = 4.0, 1.8
    mesh = to_mesh(to_solid(bunny(100.0)).simplify(0.3))
    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    low, high = mesh.bounds
    x, y, z = (
        np.arange(a - 2 * pitch, b + 3 * pitch, pitch) for a, b in zip(low, high, strict=True)
    )
    points = np.stack(np.meshgrid(x, y, z, indexing="ij"), axis=-1)
    solid, inside = to_solid(mesh), np.zeros(points.shape[:3], dtype=bool)
    for k, height in enumerate(z):
        rings = [shapely.Polygon(ring) for ring in solid.slice(float(height)).to_polygons()]
        area = functools.reduce(shapely.symmetric_difference, rings, shapely.Polygon())
        inside[:, :, k] = shapely.contains_xy(area, points[:, :, k, 0], points[:, :, k, 1])
    surface, _ = trimesh.sample.sample_surface(body, 200000, seed=2)
    near = np.full(inside.shape, -1.0)
    near[inside], _ = KDTree(surface).query(points[inside])
    corners, faces, *_ = marching_cubes(near, shell, spacing=(pitch,) * 3)
    left = abs(trimesh.Trimesh(corners, faces, process=False).volume)
    assert shell_ml(afloat(mesh), shell) == pytest.approx((body.volume - left) / 1e3, rel=0.01)


def test_what_the_shell_closes_off_is_measured():
    # two balls of radius 20 joined by a neck of radius 4: a shell of 5 mm plugs it, one of 2 not
    lower = _arc(20, -1.2, np.arccos(4 / 20), 20)
    upper = _arc(20, -np.arccos(4 / 20), PI / 2, 80)
    dumbbell = shapes.turned([(0, lower[0, 1]), *lower, *upper[:-1], (0, 100)], 96)
    cavity = cavity_in(standing(dumbbell, 0.0), 5.0, Watch())
    assert cavity.cut_off_ml == pytest.approx(4 / 3 * PI * 15**3 / 1e3, rel=0.05)
    assert cavity_in(standing(dumbbell, 0.0), 2.0, Watch()).cut_off_ml == 0.0


def _arc(radius, first, last, middle):
    angle = np.linspace(first, last, 60)
    return np.column_stack([radius * np.cos(angle), middle + radius * np.sin(angle)])


def test_overlapping_pieces_are_told_of_by_what_they_count_twice():
    both = shapes.joined(shapes.box((40, 40, 40)), shapes.box((40, 40, 40), (20, 0, 0)))
    cavity = cavity_in(afloat(both), 3.0, Watch())
    assert cavity.miscounted_ml == pytest.approx(32.0, rel=0.01)
    assert cavity.hollow_ml == 0.0


def test_what_a_surface_that_crosses_itself_counts_wrong_is_told():
    # By hand: a cylinder whose top is pushed down to a point below its foot. What comes out there
    # is a cone turned inside out: it is taken off instead of added.
    pushed = shapes.turned([(0, 0), (30, 0), (30, 40), (0, -12)], 96)
    tip_ml = PI * (30.0 * 12.0 / 52.0) ** 2 * 12.0 / 3.0 / 1000.0
    cavity = cavity_in(afloat(pushed), 1.0, Watch())
    assert cavity.miscounted_ml == pytest.approx(2.0 * tip_ml, rel=0.05)


def test_a_hollow_in_the_clay_is_told_of_by_its_volume():
    outer, inner = shapes.sphere(30, 96), shapes.sphere(12, 96)
    shell = shapes.joined(outer, type(inner)(inner.vertices, inner.faces[:, ::-1]))
    cavity = cavity_in(afloat(shell), 3.0, Watch())
    assert cavity.hollow_ml == pytest.approx(4 / 3 * PI * 12**3 / 1e3, rel=0.03)
    assert cavity.miscounted_ml == 0.0


def test_a_base_that_is_not_flat_is_sealed_and_not_told_of():
    foot = shapes.turned([(0, 0.6), (20, 0), (38, 0.8), (40, 1), (40, 80), (0, 80)], 96)
    flat = shapes.turned([(0, 0), (40, 0), (40, 80), (0, 80)], 96)
    uneven = cavity_in(standing(foot), 3.0, Watch())
    assert shell_ml(standing(foot), 3.0) == pytest.approx(shell_ml(standing(flat), 3.0), rel=2e-3)
    assert (uneven.miscounted_ml, uneven.hollow_ml) == pytest.approx((0.0, 0.0), abs=0.05)


def test_a_cancelled_shell_stops():
    with pytest.raises(CancelledError):
        cavity_in(standing(shapes.box((20, 20, 20))), 3.0, Watch(cancelled=lambda: True))
