"""Ways out narrower than a column: what is told holds the truth, and is never a silent zero."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.bubbles.narrow_ways import narrow_ways
from blender_addon.core.bubbles.pockets import freely_held_mm, trapped_air
from blender_addon.core.bubbles.settings import BubblesSettings
from blender_addon.core.bubbles.stage import bubbles_stage
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import scans, shapes
from tests.core.scans import standing

RADIUS_MM = 40.0
WHOLE_ML = 2.0 / 3.0 * pi * RADIUS_MM**3 / 1000.0
"""Half a ball: Bronstein, Handbook of Mathematics, ch. 3.3."""


def cap_ml(height_mm):
    """Spherical cap, pi h^2 (3 R - h) / 3: Bronstein, Handbook of Mathematics, ch. 3.3."""
    return pi * height_mm**2 * (3.0 * RADIUS_MM - height_mm) / 3000.0


def drilled(width_mm, low, size):
    """Return a dome of 40 mm with a square hole through its shell of 5 mm, off every grid."""
    dome = to_solid(shapes.dome(RADIUS_MM, 90.0))
    hole = to_solid(shapes.box(np.where(np.isnan(size), width_mm, size), low))
    return to_mesh(dome - hole)


def vented_at_the_top(width_mm):
    return drilled(width_mm, (0.31, 0.27, 20.0), (np.nan, np.nan, 40.0))


def vented_at_the_side(width_mm, top_mm):
    return drilled(width_mm, (10.0, 0.27, top_mm - width_mm), (60.0, np.nan, np.nan))


def told(mesh, pitch_mm):
    """Return the trapped air, what it may be off by, and the narrow ways."""
    none = np.zeros(len(mesh.faces), dtype=bool)
    airs = tuple(trapped_air(mesh, none, pitch) for pitch in (pitch_mm, 2.0 * pitch_mm))
    ways = narrow_ways(mesh, none, airs)
    return airs[0].trapped_ml, ways.apart_ml + ways.still_open_ml, ways


@pytest.mark.parametrize("pitch_mm", [1.0, 2.0])
@pytest.mark.parametrize("width_mm", [0.1, 0.4, 1.1])
def test_a_dome_with_a_hole_in_its_top_is_not_told_as_tight(width_mm, pitch_mm):
    trapped_ml, bound_ml, ways = told(vented_at_the_top(width_mm), pitch_mm)
    assert trapped_ml < 0.01 * WHOLE_ML  # by hand: all of it can leave
    assert trapped_ml + bound_ml > 0.98 * WHOLE_ML  # but by a way that rubber may shut
    assert ways.width_mm >= width_mm
    assert ways.largest_ml == pytest.approx(WHOLE_ML, rel=0.02)
    x, y, z = ways.at_mm
    assert np.hypot(x, y) < 4.0
    assert z == pytest.approx(RADIUS_MM, abs=0.3)


@pytest.mark.parametrize("top_mm", [8.3, 20.7])
@pytest.mark.parametrize("width_mm", [0.2, 0.7])
def test_a_dome_with_a_hole_in_its_side_keeps_the_cap_above_it(width_mm, top_mm):
    trapped_ml, bound_ml, _ = told(vented_at_the_side(width_mm, top_mm), 1.0)
    exact_ml = cap_ml(RADIUS_MM - top_mm)
    assert trapped_ml == pytest.approx(exact_ml, rel=0.005)
    assert trapped_ml + bound_ml > 0.98 * WHOLE_ML


def test_a_hole_wider_than_two_columns_leaves_no_doubt():
    trapped_ml, bound_ml, ways = told(vented_at_the_top(6.0), 1.0)
    assert trapped_ml + bound_ml < 0.01 * WHOLE_ML
    assert ways.at_mm is None


def test_a_tight_dome_leaves_no_doubt():
    trapped_ml, bound_ml, ways = told(shapes.dome(RADIUS_MM, 90.0), 1.0)
    assert trapped_ml == pytest.approx(WHOLE_ML, rel=0.003)
    assert bound_ml < 0.02 * WHOLE_ML
    assert ways.at_mm is None


def test_a_plug_that_crosses_the_hole_shuts_it_and_the_doubt_says_so():
    plug = shapes.box((4.0, 4.0, 2.0), (-1.5, -1.5, 41.0))  # in the shell, over the hole
    trapped_ml, bound_ml, ways = told(shapes.joined(vented_at_the_top(0.4), plug), 1.0)
    assert trapped_ml == pytest.approx(WHOLE_ML, rel=0.01)
    assert trapped_ml - bound_ml < 0.01 * WHOLE_ML  # nobody knows: the surfaces cross
    assert ways.at_mm is not None


@pytest.fixture(scope="module")
def dragon_told():
    scan = scan_stage(scans.dragon(), ScanSettings(height_mm=150.0, up="+y"), Watch())
    found = {}
    for pitch_mm in (2.0, 1.0, 0.95, 0.5):
        airs = tuple(
            trapped_air(scan.mesh, scan.base_faces, pitch) for pitch in (pitch_mm, 2.0 * pitch_mm)
        )
        freely_ml = airs[0].held_ml(freely_held_mm(scan.mesh, scan.base_faces, airs[0]))
        ways = narrow_ways(scan.mesh, scan.base_faces, airs)
        found[pitch_mm] = (airs[0].trapped_ml, freely_ml, ways)
    return found


def test_with_every_gap_open_a_scan_keeps_the_same_air_at_every_pitch(dragon_told):
    open_ml = [freely_ml for _, freely_ml, _ in dragon_told.values()]
    assert np.ptp(open_ml) < 0.01 * open_ml[-1]


def test_on_a_scan_with_a_void_behind_a_slit_every_pitch_tells_both_what_stays_open_and_shut(
    dragon_told,
):
    # In the void, 54 mm from the middle, stand 1.60 ml if the slit is shut, which columns of 2, 1
    # and 0.25 mm say, and 1.12 ml if it is open, which those of 0.95 and 0.5 mm say.
    open_ml = dragon_told[0.5][1]
    for trapped_ml, _, ways in dragon_told.values():
        bound_ml = ways.apart_ml + ways.still_open_ml
        assert trapped_ml - bound_ml < 1.005 * open_ml
        assert trapped_ml + bound_ml > open_ml + 1.60 - 1.12
        assert bound_ml < open_ml
        assert ways.at_mm[:2] == pytest.approx((53.0, -2.0), abs=4.0)


def test_the_stage_tells_what_hangs_on_a_narrow_way_and_where():
    scan = standing(vented_at_the_top(0.4))
    found = bubbles_stage(scan, BubblesSettings(pitch_mm=1.0, lean_limit_deg=0.0), Watch())
    (notice,) = [one for one in found.warnings if one.code == "narrow_way"]
    assert "narrower than 2.0 mm" in notice.text
    assert notice.at_mm[2] == pytest.approx(scan.riser_mm + RADIUS_MM, abs=0.3)
    assert found.doubt.narrow_ml == pytest.approx(WHOLE_ML, rel=0.02)
    assert found.bound_ml >= found.doubt.narrow_ml
    assert found.trapped_ml < 0.01 * WHOLE_ML
    middles = scan.mesh.corners.mean(axis=1) - (0.0, 0.0, scan.riser_mm)
    inside = np.linalg.norm(middles, axis=1) < RADIUS_MM + 0.1
    roof = inside & (middles[:, 2] > 1.0)
    assert found.prebrush[roof].all()  # no air is told there, but brush it all the same
    assert not found.trapped_depth_mm[roof].any()
