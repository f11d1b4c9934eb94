"""The whole stage, on a shape with known answers and on a real scan."""

from __future__ import annotations

from functools import cache
from math import pi

import numpy as np
import pytest
from scipy import ndimage

from blender_addon.core.bubbles.brush import brush_stage
from blender_addon.core.bubbles.flags import trapped_faces
from blender_addon.core.bubbles.paint import ADDED, ERASED, Paint
from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.bubbles.settings import BubblesSettings
from blender_addon.core.bubbles.stage import bubbles_stage
from blender_addon.core.geometry.solid import area_cm2
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import scans, shapes
from tests.core.scans import standing
from tests.core.voxels import solid_voxels


def mushroom():
    """Return a stem of 20 mm under a cap of 40 mm whose underside is hollow by 8 mm."""
    profile = [(20, 0), (20, 50), (36, 50), (36, 42), (40, 42), (40, 60), (0, 60), (0, 0)]
    mesh = shapes.turned([(0, 0), *profile[:-1]], 256)
    for _ in range(2):
        mesh = shapes.refined(mesh)
    return mesh


@cache
def bunny_scan():
    return scan_stage(scans.bunny(), ScanSettings(height_mm=150.0), Watch())


@pytest.fixture(scope="module")
def mapped():
    scan = scan_stage(mushroom(), ScanSettings(up="+z", riser_mm=5.0), Watch())
    return scan, bubbles_stage(scan, BubblesSettings(pitch_mm=0.5), Watch())


def test_the_hollow_of_a_mushroom_is_one_pocket(mapped):
    _, found = mapped
    exact_ml = pi * (36.0**2 - 20.0**2) * 8.0 / 1000.0  # a ring 8 mm deep
    assert found.trapped_ml == pytest.approx(exact_ml, rel=0.003)
    assert found.bound_ml < 0.02 * exact_ml
    (pocket,) = found.pockets
    assert pocket.depth_mm == pytest.approx(8.0, abs=1e-6)
    assert pocket.ceiling_at_mm[2] == pytest.approx(55.0)
    assert pocket.escape_at_mm[2] == pytest.approx(47.0)


def test_its_roof_clings_and_so_does_its_rim_but_not_the_base(mapped):
    scan, found = mapped
    roof, rim = pi * (36.0**2 - 20.0**2), pi * (40.0**2 - 36.0**2)
    assert found.clinging_area_cm2 == pytest.approx((roof + rim) / 100.0, rel=0.01)
    assert not found.prebrush[scan.base_faces].any()
    assert not found.clinging[scan.base_faces].any()


def test_the_brushed_faces_hold_all_the_others_and_a_margin(mapped):
    scan, found = mapped
    classes = (found.trapped_depth_mm > 0) | found.clinging | found.narrow
    assert found.prebrush[classes & ~scan.base_faces].all()
    assert found.prebrush_area_cm2 == pytest.approx(area_cm2(scan.mesh, found.prebrush))
    assert found.prebrush_area_cm2 > area_cm2(scan.mesh, classes)
    # 1 mm of rubber of 1080 kg/m3 on a square centimetre weighs 0.108 g.
    assert found.prebrush_g == pytest.approx(0.108 * found.prebrush_area_cm2)
    top = scan.mesh.corners[:, :, 2].min(axis=1) > 64.9
    assert not found.prebrush[top].any()


def voxel_trapped_ml(mesh, pitch):
    """Return trapped air by reconstruction on voxels: another method, on a general library.

    A voxel keeps air when flooding from the vent, level by level from the top down, reaches it only
    below its own height.
    """
    free = ~solid_voxels(mesh, pitch).inside
    reached = np.zeros_like(free)
    trapped = 0
    for level in range(free.shape[2] - 1, -1, -1):
        open_above = free.copy()
        open_above[:, :, :level] = False
        label, _ = ndimage.label(open_above)
        out = label == label[0, 0, -1]
        out &= open_above
        fresh = out & ~reached
        trapped += np.count_nonzero(fresh[:, :, level + 1 :])
        reached |= out
    return trapped * pitch**3 / 1000.0


def test_a_real_scan_agrees_with_a_flood_of_voxels():
    scan = bunny_scan()
    settings = BubblesSettings(pitch_mm=0.75, lean_limit_deg=0.0)
    none = np.zeros(len(scan.mesh.faces), dtype=bool)  # no riser: both see the same space
    air = trapped_air(scan.mesh, none, settings.pitch_mm)
    area_mm2 = np.count_nonzero(air.trapped_mm) * settings.pitch_mm**2
    pitch = 1.5
    # A voxel count is off by at most a layer of voxels over the mouth of the pockets.
    assert air.trapped_ml == pytest.approx(
        voxel_trapped_ml(scan.mesh, pitch), abs=pitch * area_mm2 / 1000.0
    )


def test_a_real_scan_gets_a_map():
    scan = bunny_scan()
    found = bubbles_stage(scan, BubblesSettings(), Watch())
    assert found.pitch_mm == pytest.approx(max(scan.size_mm) / 300.0)
    assert found.trapped_ml > sum(pocket.volume_ml for pocket in found.pockets[1:])
    assert found.bound_ml < 0.02 * found.trapped_ml
    volumes = [pocket.volume_ml for pocket in found.pockets]
    assert volumes == sorted(volumes, reverse=True)
    assert found.lean.trapped_ml <= found.trapped_ml
    assert 0.0 < found.prebrush_area_cm2 < scan.area_cm2
    flagged = found.trapped_depth_mm > 0.0
    levels = scan.mesh.corners.mean(axis=1)[flagged, 2] - found.trapped_depth_mm[flagged]
    escapes = np.array([pocket.escape_at_mm[2] for pocket in found.pockets])
    away = np.abs(levels[:, None] - escapes).min(axis=1)
    assert away.max() < 0.5  # every flagged face hangs on a listed saddle


@pytest.mark.parametrize("pitch_mm", [2.0, 1.0])
@pytest.mark.parametrize("shape", ["dome", "cone", "groove", "scan"])
def test_halving_the_pitch_changes_trapped_air_by_less_than_the_bound(shape, pitch_mm):
    if shape == "scan":
        scan = bunny_scan()
    else:
        made = {
            "dome": lambda: shapes.dome(40.0, 75.0),
            "cone": lambda: shapes.cone_recess(40.0, 60.0),
            "groove": lambda: shapes.ring_groove(60.0, 15.0),
        }[shape]()
        scan = standing(shapes.spun(shapes.tilted(made, 17.0), 33.0))
    calm = BubblesSettings(pitch_mm=pitch_mm, lean_limit_deg=0.0, brush_mm=50.0)
    found = bubbles_stage(scan, calm, Watch())
    finer = trapped_air(scan.mesh, scan.base_faces, pitch_mm / 2.0)
    assert abs(finer.trapped_ml - found.trapped_ml) < found.bound_ml
    assert found.bound_ml < 0.05 * found.trapped_ml


@pytest.fixture(scope="module")
def bunny_air():
    scan = bunny_scan()
    return scan, trapped_air(scan.mesh, scan.base_faces, 0.5)


def test_a_scan_that_lost_a_twentieth_of_its_triangles_keeps_its_trapped_air(bunny_air):
    _, whole = bunny_air
    given = scans.bunny()
    lost = np.random.default_rng(11).random(len(given.faces)) < 0.05
    scan = scan_stage(scans.without_faces(given, lost), ScanSettings(height_mm=150.0), Watch())
    air = trapped_air(scan.mesh, scan.base_faces, 0.5)
    assert not len(air.spaces.solids.unclosed)
    assert air.trapped_ml == pytest.approx(whole.trapped_ml, rel=0.05)


def under_a_roof(mesh, point):
    """Return whether a vertical ray meets a triangle, by its shares of the corners in plan."""
    a, b, c = (mesh.vertices[mesh.faces[:, k]] - point for k in range(3))
    double = [p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0] for p, q in ((b, c), (c, a), (a, b))]
    total = sum(double)
    met = total != 0.0
    shares = np.array([one[met] / total[met] for one in double])
    heights = np.array([corner[met, 2] for corner in (a, b, c)])
    return bool((((shares * heights).sum(axis=0) > 0.0) & (shares >= 0.0).all(axis=0)).any())


def test_over_unflagged_faces_that_look_up_a_ray_reaches_open_air(bunny_air):
    # Where the ray hits a roof, the air there must be able to leave.
    scan, air = bunny_air
    depth, _ = trapped_faces(scan.mesh, air)
    up = np.flatnonzero((scan.mesh.vectors_mm2[:, 2] > 0.0) & (depth == 0.0))
    chosen = np.random.default_rng(2).choice(up, 200, replace=False)
    starts = scan.mesh.corners[chosen].mean(axis=1) + (0.0, 0.0, 0.2)
    roofed = np.array([under_a_roof(scan.mesh, start) for start in starts])
    assert roofed.mean() < 0.5
    grid = air.spaces.grid
    for x, y, z in starts[roofed]:
        cell = round((x - grid.x_mm) / grid.pitch_mm) * grid.ny
        cell += round((y - grid.y_mm) / grid.pitch_mm)
        own = np.flatnonzero(air.spaces.cell == cell)
        around = own[(air.spaces.floor_mm[own] < z) & (z < air.spaces.ceiling_mm[own])]
        assert (air.escapes.level_mm[around] > z - 0.5).all()


def test_the_makers_paint_is_added_and_taken_off_but_never_put_on_the_base(mapped):
    scan, found = mapped
    top = np.flatnonzero(scan.mesh.corners[:, :, 2].min(axis=1) > 64.9)[:3]
    brushed = np.flatnonzero(found.prebrush)[:4]
    base = np.flatnonzero(scan.base_faces)[:2]
    marks = np.zeros(scan.triangles, dtype=int)
    marks[scan.source_faces[top]] = ADDED
    marks[scan.source_faces[brushed]] = ERASED
    marks[scan.source_faces[base]] = ADDED
    again = brush_stage(scan, found, Paint(marks), BubblesSettings(), Watch())
    assert again.prebrush[top].all()
    assert not again.prebrush[brushed].any()
    assert not again.prebrush[base].any()
    others = np.setdiff1d(np.arange(len(found.prebrush)), np.concatenate([top, brushed, base]))
    np.testing.assert_array_equal(again.prebrush[others], found.prebrush[others])
    np.testing.assert_array_equal(again.computed, found.computed)
    assert again.prebrush_area_cm2 == pytest.approx(area_cm2(scan.mesh, again.prebrush))
    assert again.prebrush_g == pytest.approx(0.108 * again.prebrush_area_cm2)
