"""The channel is really clear, and no other place for the master gives a wider one."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from scipy.spatial import ConvexHull, cKDTree

from tests import shapes
from tests.core import scans
from tests.core.case.plates import ell, in_tube, keyhole, plate, star

SAMPLE_MM = 1.5


def plan_samples(mesh):
    """Return points of the surface in plan; no edge between them is longer than ``SAMPLE_MM``."""
    points, _ = trimesh.remesh.subdivide_to_size(
        np.array(mesh.vertices), np.array(mesh.faces), SAMPLE_MM, max_iter=20
    )
    return points[:, :2]


def widest_by_trying(samples, bore_mm, least_mm, step_mm):
    """Return about the widest drop over grids of axes and of places, by distances alone."""
    span = np.arange(-2 * bore_mm, 2 * bore_mm, step_mm)
    grid = np.stack(np.meshgrid(span, span), axis=-1).reshape(-1, 2)
    hull = samples[ConvexHull(samples).vertices]
    far = np.linalg.norm(grid[:, None] - hull, axis=2).max(axis=1)
    axes = grid[far <= bore_mm - least_mm]
    off = cKDTree(samples).query(grid)[0]  # inside the master too: no more than SAMPLE_MM there
    to_bore = bore_mm - cKDTree(axes).query(grid)[0]
    return 2 * np.minimum(off, to_bore).max()


MASTERS = {
    "bar": (shapes.cylinder(30, 60), 60),
    "box": (shapes.box([80, 40, 60]), 66),
    "ell": (plate(ell()), 76),
    "keyhole": (plate(keyhole()), 90),
    **{f"star {seed}": (plate(star(seed)), 110) for seed in range(5)},
    "leaning": (shapes.box([30, 30, 90]).moved(
        [[1, 0, 0.7, 0], [0, 1, 0.3, 0], [0, 0, 1, 0], [0, 0, 0, 1]]), 75),
    "two pieces": (shapes.joined(
        shapes.cylinder(20, 60), shapes.box([20, 20, 40], low=(45, 15, 10))), 75),
}  # fmt: skip


@pytest.fixture(params=MASTERS, scope="module")
def stood(request, tmp_path_factory):
    mesh, bore_mm = MASTERS[request.param]
    case = in_tube(tmp_path_factory.mktemp("tubes"), mesh, 2 * bore_mm)
    assert case.kind == "stock tube"
    return case, bore_mm, plan_samples(case.master)


def test_channel_is_clear_of_every_point_of_the_master_and_of_the_bore(stood):
    case, bore_mm, samples = stood
    at = np.array(case.channel_at_mm)
    assert cKDTree(samples).query(at)[0] >= case.channel_mm / 2
    assert np.linalg.norm(at) + case.channel_mm / 2 <= bore_mm


def test_channel_lies_straight_at_the_back(stood):
    case, _, _ = stood
    assert case.channel_at_mm[0] == pytest.approx(0, abs=1e-6)
    assert case.channel_at_mm[1] > 0


def test_channel_is_as_wide_as_master_and_bore_let_it(stood):
    case, bore_mm, samples = stood
    at = np.array(case.channel_at_mm)
    free = min(cKDTree(samples).query(at)[0], bore_mm - np.linalg.norm(at))
    # between two samples on the rim a disc of 10 mm bulges by no more than 0.75^2 / 20 mm
    assert case.channel_mm / 2 == pytest.approx(free, abs=0.03)


def test_master_keeps_its_distance_from_the_bore(stood):
    case, bore_mm, samples = stood
    far = np.linalg.norm(samples, axis=1).max()
    assert bore_mm - far == pytest.approx(case.least_rubber_mm, abs=1e-9)
    assert case.least_rubber_mm >= 13
    place = np.array(case.least_rubber_at_mm)
    assert bore_mm - np.hypot(*place[:2]) == pytest.approx(case.least_rubber_mm, abs=1e-9)
    assert cKDTree(case.master.vertices).query(place)[0] == 0


def test_rubber_at_the_cut_is_what_was_asked(stood):
    _, bore_mm, samples = stood
    assert cKDTree(samples).query([0, bore_mm])[0] >= 19


def test_no_other_place_for_the_master_gives_a_wider_channel(stood):
    case, bore_mm, samples = stood
    tried = widest_by_trying(samples - case.center_mm, bore_mm, 13, 2.0)
    # samples lie off the true rim by 0.03 mm at the most; a grid misses a peak by its half diagonal
    assert tried - 0.1 <= case.channel_mm <= tried + 8


def test_bay_of_an_ell_holds_the_disc_that_touches_both_arms(tmp_path):
    # axis on the diagonal as far as the outer corner lets it, rho = T - 13 from it; wall T on:
    # the disc touches both arms at (30 + r, 30 + r), and the wall: sqrt(2) (30 + r) + r = rho + T
    bore_mm = 76.0
    case = in_tube(tmp_path, plate(ell()), 2 * bore_mm)
    radius = (2 * bore_mm - 13 - 30 * np.sqrt(2)) / (1 + np.sqrt(2))
    assert case.channel_mm == pytest.approx(2 * radius, rel=1e-6)


def test_bay_behind_a_slot_holds_the_channel_and_the_rest_goes_to_the_rubber(tmp_path):
    case = in_tube(tmp_path, plate(keyhole()), 150, cut_rubber_mm=10.0)
    # behind the round master only 150 - 120 - 13 = 17 mm are clear; the bay is 40 across
    assert case.channel_mm == pytest.approx(40, rel=1e-3)
    assert case.channel_mm <= 40
    # the circle round the master stands in the middle of the bore
    assert case.least_rubber_mm == pytest.approx(75 - 60, abs=0.01)


def test_master_moves_off_the_middle_until_the_cut_has_its_rubber(tmp_path):
    case = in_tube(tmp_path, plate(keyhole()), 154, cut_rubber_mm=19.0)
    assert case.kind == "stock tube"
    assert case.channel_mm == pytest.approx(40, rel=1e-3)
    # in the middle the bore's back is 17.9 mm from the two corners of the slot, which are nearest
    nearest = cKDTree(case.master.vertices[:, :2]).query([0, 77])[0]
    assert 19 <= nearest <= 19.1
    assert case.least_rubber_mm < 77 - 60 - 1


def test_master_moves_off_the_middle_until_the_drop_between_its_posts_has_room(tmp_path):
    # three posts 78 mm from (0, 0) and a fourth far off: 78 - 3 mm are clear between the three
    places = [78 * np.array([np.cos(a), np.sin(a)]) for a in np.radians([70, 180, 290])]
    post = shapes.cylinder(3, 40)
    posts = [
        post.with_vertices(post.vertices + [x, y, 0]) for x, y in [*places, np.array([-175.0, 0])]
    ]
    case = in_tube(tmp_path, shapes.joined(*posts), 268)
    assert case.kind == "stock tube"
    assert case.channel_mm == pytest.approx(150, abs=0.01)
    # it needs the axis nearer than the middle of the master, yet not as near as 13 mm would let it
    assert np.linalg.norm(case.channel_at_mm) == pytest.approx(134 - 75, abs=0.2)
    assert 13.5 < case.least_rubber_mm < 16


def test_hole_that_the_master_encloses_is_no_channel(tmp_path):
    ring = shapes.torus(40, 8)  # 64 mm of hole, 48 mm outer radius
    case = in_tube(tmp_path, ring, 140)
    # as for a full disc: 2 T - 2 R - g at the back
    assert case.channel_mm == pytest.approx(140 - 96 - 13, abs=0.1)
    assert case.channel_at_mm[1] > 48


def test_channel_in_a_real_scan_is_clear_and_the_widest(tmp_path):
    mesh = scans.bunny()
    bore_mm = 97.0
    case = in_tube(tmp_path, mesh, 2 * bore_mm)
    samples = plan_samples(case.master)
    at = np.array(case.channel_at_mm)
    near = cKDTree(samples).query(at)[0]
    assert case.channel_mm / 2 <= near <= case.channel_mm / 2 + 0.2
    assert np.linalg.norm(at) + case.channel_mm / 2 <= bore_mm
    tried = widest_by_trying(samples, bore_mm, 13, 2.0)
    assert tried - 0.1 <= case.channel_mm <= tried + 8
    assert bore_mm - np.linalg.norm(samples, axis=1).max() == pytest.approx(13, abs=1e-4)
