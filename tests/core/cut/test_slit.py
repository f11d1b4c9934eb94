"""Where the slit runs and how it is keyed, measured with another library."""

from dataclasses import replace

import numpy as np
import pytest
import trimesh

from blender_addon.core.cut.blade import lines_along, meets_piece
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.path import rearmost_mm
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.errors import CancelledError
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage
from tests.core.scans import bunny

RISER = 6.35


@pytest.fixture(scope="module")
def rabbit():
    case = cased(bunny(150.0), inner_diameter_mm=200.0, at=(0.0, 0.0))
    return case, cut_stage(case, NO_MARKS, CutSettings(), Watch())


def off_surface_mm(points, mesh, reach=12.0):
    """Return each point's distance from a mesh, infinity if it is farther than ``reach``."""
    corners = mesh.corners
    low, high = corners.min(axis=1) - reach, corners.max(axis=1) + reach
    found = np.full(len(points), np.inf)
    for number, point in enumerate(points):
        near = corners[((low <= point) & (point <= high)).all(axis=1)]
        if len(near):
            every = np.tile(point, (len(near), 1))
            gaps = every - trimesh.triangles.closest_point(near, every)
            found[number] = np.linalg.norm(gaps, axis=1).min()
    return found


def rows(found):
    """Return the ribbon's rows: at the piece, after the straight, after the slant, outside."""
    return found.ribbon.vertices.reshape(-1, 4, 3)


def sideways(found):
    """Return how far each row's end lies beside its straight part."""
    grid = rows(found)[:, :, :2]
    way = grid[:, 1] - grid[:, 0]
    way /= np.linalg.norm(way, axis=1)[:, None]
    off = grid[:, 3] - grid[:, 0]
    return way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0]


def toothed(found):
    return rows(found)[np.abs(sideways(found)) > 1e-6]


def cut(mesh, settings=None, **case):
    case.setdefault("at", (0.0, 0.0))
    return cut_stage(cased(mesh, **case), NO_MARKS, settings or CutSettings(), Watch())


def test_the_slit_of_a_bar_is_straight_at_its_back():
    found = cut(shapes.cylinder(20, 100))
    angle = np.degrees(np.arctan2(found.slit_mm[:, 1], found.slit_mm[:, 0]))
    assert angle == pytest.approx(90.0, abs=20.0)  # the front looks to -y
    assert np.ptp(found.slit_mm[:, 0]) < 0.5
    assert np.hypot(*found.slit_mm[:, :2].T) == pytest.approx(20.0, abs=0.02)
    assert found.slit_mm[0, 2] == RISER
    assert (np.diff(found.slit_mm[:, 2]) > 0).all()
    assert rows(found)[0, 0, 2] == 0.0  # the block opens from its underside


def test_the_knife_goes_as_deep_as_the_rubber_is_thick():
    found = cut(shapes.cylinder(20, 100), inner_diameter_mm=140.0)
    assert [depth.z_mm for depth in found.depths] == [0.0, 10.0, 20.0, 30.0]
    assert [depth.depth_mm for depth in found.depths] == pytest.approx([70 - 20] * 4, abs=0.05)


@pytest.mark.parametrize("degrees", [20.0, 200.0, 317.0])
def test_a_start_that_is_set_is_kept(degrees):
    found = cut(shapes.cylinder(20, 100), CutSettings(start_deg=degrees))
    angle = np.degrees(np.arctan2(found.slit_mm[0, 1], found.slit_mm[0, 0])) % 360
    assert angle == pytest.approx(degrees, abs=4.1)


@pytest.mark.parametrize(("side", "x", "y"), [
    ("back", 0, 1), ("front", 0, -1), ("left", -1, 0), ("right", 1, 0),
])  # fmt: skip
def test_a_side_that_is_set_is_kept(side, x, y):
    found = cut(shapes.cylinder(20, 100), CutSettings(side=side))
    assert found.slit_mm[0, :2] @ [x, y] > 20 * np.cos(np.radians(45.1))


def test_a_start_turns_with_the_piece_in_its_case():
    case = cased(shapes.cylinder(20, 100), at=(0.0, 0.0))
    turned = case.placement.copy()
    turned[:2, :2] = [[0, -1], [1, 0]]  # the case has turned the piece by a quarter
    found = cut_stage(replace(case, placement=turned), NO_MARKS, CutSettings(start_deg=20), Watch())
    angle = np.degrees(np.arctan2(found.slit_mm[0, 1], found.slit_mm[0, 0]))
    assert angle == pytest.approx(110.0, abs=4.1)


def test_the_slit_starts_at_the_foot_though_another_part_hangs_just_above_the_board_at_the_back():
    foot = [(0, 0), (14, 0), (20, 1), (20, 60), (0, 60)]
    solid = to_solid(shapes.turned(foot, segments=48))
    solid += to_solid(shapes.box((24, 6, 49.6), (-12, 24, 0.4)))
    piece = to_mesh(solid + to_solid(shapes.box((24, 18, 20), (-12, 12, 30))))
    rim = shapes.cylinder(20, 1, segments=48).vertices[1:49, :2] - [0.0, 5.0]
    found = cut(piece, CutSettings(way="slit"), outline=(rim,))
    assert np.hypot(*(found.slit_mm[0, :2] - [0.0, -5.0])) < 20.0 + 2.0
    assert found.proof.opens


@pytest.mark.parametrize(("off_mm", "meets"), [(0.0, True), (0.2, False), (-0.2, True)])
def test_a_blade_that_touches_the_piece_from_beside_opens_its_ring(off_mm, meets):
    case = cased(shapes.cylinder(20, 60, segments=960), at=(0.0, 0.0))
    z = np.arange(0.0, 60.0, 1.5)
    rows = np.array([[[20.0 + off_mm, y, h] for y in (0.0, 5.0, 10.0, 80.0)] for h in z])
    into = np.full(len(z), 1.0)
    found = meets_piece(lines_along(case, rows, (into, into), RISER), rows, into)
    assert found.tolist() == [meets] * (len(z) - 1)


def test_under_a_piece_that_stands_on_a_point_there_is_no_ring_to_open():
    found = cut(shapes.turned([(0, 0), (30, 40), (0, 80)]), CutSettings(way="slit"), outline=())
    assert found.proof.opens


def test_the_slit_goes_from_piece_to_piece_where_they_touch():
    post = shapes.box((10, 10, 40), (-20, -5, 20))
    piece = shapes.joined(
        shapes.box((40, 30, 20), (-20, -15, 0)), post, shapes.box((40, 30, 20), (-20, -15, 60))
    )
    found = cut(piece, CutSettings(elongation_percent=20))
    waist = found.slit_mm[(found.slit_mm[:, 2] > RISER + 21) & (found.slit_mm[:, 2] < RISER + 59)]
    assert len(waist) > 10
    off = np.abs(waist[:, :2] - [-15, 0]).max(axis=1)
    assert off == pytest.approx(5.0, abs=1e-6)  # on one of the post's sides


def test_the_slit_lies_on_the_scan(rabbit):
    case, found = rabbit
    assert len(found.slit_mm) > 20
    assert off_surface_mm(found.slit_mm, case.master).max() < 1e-3
    assert (np.diff(found.slit_mm[:, 2]) > 0).all()
    assert found.slit_mm[0, 2] == pytest.approx(RISER, abs=1.5)  # as flat as its riser's outline
    assert found.slit_mm[-1, 2] >= RISER + 30.0


def test_spots_that_an_uneven_base_stands_on_are_no_neck(rabbit):
    _, found = rabbit
    assert found.needed_stretch < 1.0
    assert found.kind == "one slit"


@pytest.mark.parametrize("keep_off", [3.0, 6.0])
def test_teeth_keep_off_the_scan_and_the_outside(rabbit, keep_off):
    case, _ = rabbit
    found = cut_stage(case, NO_MARKS, CutSettings(keep_off_mm=keep_off, straight_mm=2.0), Watch())
    beyond = toothed(found)[:, 2:].reshape(-1, 3)
    assert len(beyond) > 30
    assert off_surface_mm(beyond, case.master).min() >= keep_off
    slant = toothed(found)[:, 2]
    assert (100.0 - np.hypot(slant[:, 0], slant[:, 1])).min() >= keep_off - 1e-9


def test_teeth_keep_off_a_ball_whose_sides_swell_past_the_slit():
    case = cased(shapes.sphere(40, 96), inner_diameter_mm=120.0, at=(0.0, 0.0))
    settings = CutSettings(keep_off_mm=4, straight_mm=4, elongation_percent=20, tooth_mm=16)
    found = cut_stage(case, NO_MARKS, settings, Watch())
    beyond = toothed(found)[:, 1:].reshape(-1, 3)
    assert off_surface_mm(beyond, case.master).min() >= 4.0 - 1e-3


def test_the_trace_lies_on_the_outside_and_turns_by_the_tooth():
    case = cased(shapes.cylinder(20, 150), inner_diameter_mm=120.0, at=(0.0, 0.0))
    found = cut_stage(case, NO_MARKS, CutSettings(least_slit_mm=100, tooth_mm=12), Watch())
    trace = found.zigzag_mm
    assert np.hypot(trace[:, 0], trace[:, 1]) == pytest.approx(60.0)
    across = sideways(found)
    turns = np.flatnonzero(np.diff(np.sign(np.diff(across))) != 0) + 1
    peaks = turns[np.abs(across[turns]) > 3.5]  # beyond what the long waves do by themselves
    assert len(peaks) > 6
    steps = np.diff(trace[turns[:-1], 2])
    assert steps == pytest.approx(6.0, abs=1e-9)  # half a pitch
    # teeth at 45 degrees: a quarter of the pitch to each side, and the long waves besides
    assert np.abs(across).max() == pytest.approx(3.0 + found.wave_mm, abs=1.0)


def test_the_ribbon_is_one_open_surface_without_empty_triangles(rabbit):
    _, found = rabbit
    ribbon = trimesh.Trimesh(found.ribbon.vertices, found.ribbon.faces, process=False)
    assert ribbon.area_faces.min() > 0.0
    assert ribbon.body_count == 1
    assert not ribbon.is_watertight
    assert ribbon.is_winding_consistent


def test_the_ribbon_passes_through_no_part_of_a_ball():
    case = cased(shapes.sphere(30, 96), inner_diameter_mm=110.0, at=(0.0, 0.0))
    found = cut_stage(case, NO_MARKS, CutSettings(elongation_percent=20), Watch())
    middle = np.array([0.0, 0.0, RISER + 30])
    away = np.linalg.norm(rows(found)[:, 1:].reshape(-1, 3) - middle, axis=1)
    assert away.min() > 30.0


def test_rubber_too_thin_for_teeth_is_cut_straight_and_told_of():
    case = cased(shapes.cylinder(50, 60), inner_diameter_mm=116.0, at=(0.0, 0.0))
    found = cut_stage(case, NO_MARKS, CutSettings(), Watch())  # 8 mm: straight 5, keep off 3
    assert [notice.code for notice in found.warnings] == ["no_teeth"]
    assert sideways(found) == pytest.approx(0.0, abs=1e-9)
    assert "from 0.0 mm to 36.4 mm" in found.warnings[0].text
    wider = cased(shapes.cylinder(50, 60), inner_diameter_mm=120.0, at=(0.0, 0.0))
    thin = cut_stage(wider, NO_MARKS, CutSettings(), Watch())  # 2 mm left for teeth
    assert thin.warnings == ()
    assert 1.0 < np.abs(sideways(thin)).max() < 2.3


def test_a_master_without_riser_is_cut_from_the_board_up():
    case = cased(shapes.cylinder(20, 60), riser_mm=0.0, at=(0.0, 0.0), outline=())
    found = cut_stage(case, NO_MARKS, CutSettings(), Watch())
    assert found.slit_mm[0, 2] == 0.0
    assert found.depths[0].depth_mm == pytest.approx(60.0, abs=0.05)


def test_the_rearmost_point_in_a_band_is_found_between_the_ends():
    segments = np.array([[[0.0, 0.0], [10.0, 20.0]], [[3.0, 1.0], [3.0, 9.0]]])
    assert rearmost_mm(segments, 2.5, 3.5) == pytest.approx(9.0)
    assert rearmost_mm(segments, 4.0, 6.0) == pytest.approx(12.0)
    assert rearmost_mm(segments, 11.0, 12.0) == -np.inf


def test_a_cancelled_cut_stops():
    case = cased(shapes.cylinder(20, 60), at=(0.0, 0.0))
    with pytest.raises(CancelledError):
        cut_stage(case, NO_MARKS, CutSettings(), Watch(cancelled=lambda: True))
