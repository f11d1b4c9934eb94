"""Holes closed smoothly: as fine as the surface round them, true to its shape, and in nobody's way.

Volumes of the ball: Bronstein, Handbook of Mathematics, ch. 3.3.
"""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from blender_addon.core.bubbles.flags import trapped_faces
from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.geometry.edges import edge_lengths_mm
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import enclosed_volume_ml, face_areas_mm2
from blender_addon.core.scan.holes import closed, rims_of
from blender_addon.core.scan.patches import spanned
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.smooth_patches import smoothly_spanned
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import scans, shapes

AXIS = np.array([0.6, 0.48, 0.64])


def torn_ball(half_deg):
    """Return a ball of 40 mm, and the same without a cap."""
    ball = shapes.sphere(40.0, 96)
    middles = ball.corners.mean(axis=1)
    off = middles @ AXIS / np.linalg.norm(middles, axis=1)
    return ball, scans.without_faces(ball, off > np.cos(np.radians(half_deg)))


@pytest.mark.parametrize(("half_deg", "better"), [(15.0, 40.0), (30.0, 15.0), (60.0, 5.0)])
def test_a_hole_in_a_ball_is_closed_many_times_better_than_flat(half_deg, better):
    ball, torn = torn_ball(half_deg)
    whole_ml = enclosed_volume_ml(ball)
    rims = rims_of(torn)
    flat, _ = spanned(torn, rims)
    smooth = smoothly_spanned(torn, rims)
    lost_ml = whole_ml - enclosed_volume_ml(flat)
    assert abs(whole_ml - enclosed_volume_ml(smooth)) < lost_ml / better
    assert lost_ml > 0.0


def test_a_patch_lies_on_the_ball_that_it_mends():
    _, torn = torn_ball(20.0)
    smooth = smoothly_spanned(torn, rims_of(torn))
    added = np.linalg.norm(smooth.vertices[len(torn.vertices) :], axis=1)
    assert added == pytest.approx(40.0, abs=0.15)  # a flat patch is 2.4 mm off


def test_a_patch_is_as_fine_as_its_rim():
    _, torn = torn_ball(30.0)
    (rim,) = rims_of(torn)
    longest_mm = np.linalg.norm(torn.vertices[np.roll(rim, -1)] - torn.vertices[rim], axis=1).max()
    smooth = smoothly_spanned(torn, [rim])
    patch = Mesh(smooth.vertices, smooth.faces[len(torn.faces) :])
    assert edge_lengths_mm(patch.vertices, patch.edges).max() < 1.5 * longest_mm
    judge = trimesh.Trimesh(smooth.vertices, smooth.faces, process=False)
    assert judge.is_watertight
    assert judge.is_winding_consistent


@pytest.mark.parametrize(
    "change",
    [
        lambda mesh: shapes.spun(mesh, 40.0),
        lambda mesh: shapes.tilted(mesh, 25.0),
        lambda mesh: mesh.with_vertices(mesh.vertices + (700.0, -30.0, 5.0)),
    ],
    ids=["turned", "tilted", "moved"],
)
def test_a_patch_does_not_depend_on_how_the_scan_lies(change):
    _, torn = torn_ball(30.0)
    one, other = (smoothly_spanned(mesh, rims_of(mesh)) for mesh in (torn, change(torn)))
    assert enclosed_volume_ml(other) == pytest.approx(enclosed_volume_ml(one), rel=1e-4)


def test_a_hole_in_a_plane_stays_in_the_plane():
    block = shapes.box((64.0, 64.0, 20.0))
    for _ in range(4):
        block = shapes.refined(block)
    middles = block.corners.mean(axis=1)
    hole = (middles[:, 2] == 20.0) & (np.linalg.norm(middles[:, :2] - 32.0, axis=1) < 14.0)
    shut = closed(scans.without_faces(block, hole))
    assert shut.mesh.vertices[len(block.vertices) :, 2] == pytest.approx(20.0, abs=1e-9)
    assert enclosed_volume_ml(shut.mesh) == pytest.approx(64.0 * 64.0 * 20.0 / 1000.0)


def test_the_base_stays_flat_and_coarse_in_its_own_plane():
    ball = shapes.sphere(40.0, 96)
    shut = closed(scans.without_faces(ball, ball.corners.mean(axis=1)[:, 2] < -20.0))
    (base,) = shut.base
    added = shut.mesh.corners[-(base.edges - 2) :]
    assert np.ptp(added[:, :, 2]) == 0.0
    assert np.linalg.norm(added[:, 0] - added[:, 1], axis=1).max() > 20.0


def test_a_bulging_patch_stays_flat_where_it_would_cross_a_bridge():
    _, torn = torn_ball(30.0)
    rims = rims_of(torn)
    free = smoothly_spanned(torn, rims)
    top = free.vertices[len(torn.vertices) :] @ AXIS
    flat_mm = torn.vertices[rims[0]] @ AXIS
    assert top.max() > flat_mm.max() + 3.0  # it bulges over its rim
    # a thin bar across the hole, between its flat patch and the ball
    bar = shapes.box((70.0, 1.0, 0.6), (-35.0, -0.5, 0.0))
    out = np.linalg.qr(np.column_stack([AXIS, [1.0, 0, 0], [0, 1.0, 0]]))[0]
    out *= np.sign(out[:, 0] @ AXIS)
    frame = np.column_stack([out[:, 1], out[:, 2], out[:, 0]])
    bridge = bar.with_vertices((bar.vertices + (0.0, 0.0, flat_mm.max() + 1.5)) @ frame.T)
    crowded = shapes.joined(torn, bridge)
    shut = smoothly_spanned(crowded, rims)
    added = shut.vertices[len(crowded.vertices) :] @ AXIS
    assert added.max() < flat_mm.max() + 0.5


def stray_share(scan, air, faces):
    """Return the share of the area of faces whose parts are not flagged as the whole is."""
    parts = Mesh(scan.mesh.vertices, scan.mesh.faces[faces])
    whole, _ = trapped_faces(parts, air)
    count = len(faces)
    for _ in range(3):
        parts = shapes.refined(parts)
    parent = np.tile(np.arange(count), 64)
    part, _ = trapped_faces(parts, air)
    areas = face_areas_mm2(parts)
    return areas[(part > 0.0) != (whole[parent] > 0.0)].sum() / areas.sum()


def test_mended_places_of_a_real_scan_bear_no_streaks():
    scan = scan_stage(scans.bunny(), ScanSettings(height_mm=150.0), Watch())
    air = trapped_air(scan.mesh, scan.base_faces, 0.5)
    mended = np.flatnonzero((scan.source_faces < 0) & ~scan.base_faces)
    assert len(mended) > 1000
    assert stray_share(scan, air, mended) < 0.03
