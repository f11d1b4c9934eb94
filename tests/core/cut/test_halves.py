"""Two halves: where they part, that they come apart, and that nothing is lost."""

import numpy as np
import pytest
import trimesh

from blender_addon.core.constants.cut import HALVES_DIRECTIONS, SPLIT_DETAIL_CELLS
from blender_addon.core.cut.marks import NO_MARKS, Marks
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.cut.undercut import best_split, split_along
from blender_addon.core.geometry.connect import clustered
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage
from tests.core.scans import bunny
from tests.judges.nearest import nearest

RISER = 6.35


def upright(mesh):
    """Return the scan, whose +y points up, standing."""
    return mesh.moved(np.array([[1, 0, 0, 0], [0, 0, -1, 0], [0, 1, 0, 0], [0, 0, 0, 1.0]]))


def halves(mesh, marks=NO_MARKS, settings=None, **case):
    case.setdefault("at", (0.0, 0.0))
    case.setdefault("inner_diameter_mm", 120.0)
    settings = settings or CutSettings(way="halves")
    case = cased(mesh, **case)
    return case, cut_stage(case, marks, settings, Watch())


@pytest.fixture(scope="module")
def ball():
    return halves(shapes.sphere(30, 96), outline=())


@pytest.fixture(scope="module")
def rabbit():
    return halves(upright(bunny(150.0)), inner_diameter_mm=240.0)


def parts_of(case, found):
    """Return how many parts of the surface are left when the faces along the line are torn out."""
    mesh = case.master
    judge = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    near, _ = nearest(mesh.vertices, mesh.faces, found.slit_mm)
    kept = np.ones(len(mesh.faces), dtype=bool)
    kept[near] = False
    adjacency = judge.face_adjacency
    adjacency = adjacency[kept[adjacency].all(axis=1)]
    groups = trimesh.graph.connected_components(adjacency, nodes=np.flatnonzero(kept), min_len=20)
    return len(groups)


def test_a_ball_parts_along_a_great_circle(ball):
    _, found = ball
    assert found.kind == "two halves"
    assert found.slit_length_mm == pytest.approx(2 * np.pi * 30, rel=0.01)  # closed form
    assert found.slit_mm[0] == pytest.approx(found.slit_mm[-1])
    assert np.linalg.norm(found.slit_mm - [0, 0, 6.35 + 30], axis=1) == pytest.approx(30, abs=0.05)


def test_both_halves_come_apart_and_make_up_the_block(ball, rabbit):
    for case, found in (ball, rabbit):
        assert found.proof.pieces == 2
        assert found.proof.opens
        assert found.proof.error_share < 1e-3
        rubber_ml = (
            case.bore.area_mm2 * case.level_z_mm - abs(to_solid(case.master).volume())
        ) / 1e3
        riser_ml = sum(abs(area(one)) for one in case.riser_outline) * case.riser_mm / 1e3
        assert found.proof.block_ml == pytest.approx(rubber_ml - riser_ml, rel=1e-3)


def area(outline):
    x, y = outline.T
    return (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def test_the_line_parts_the_surface_in_exactly_two(ball, rabbit):
    for case, found in (ball, rabbit):
        assert len(found.parting_mm) == 1
        assert parts_of(case, found) == 2


def test_the_parting_surface_is_straight_at_the_piece_and_its_teeth_keep_off(ball):
    _case, found = ball
    middle = np.array([0.0, 0.0, 6.35 + 30])
    off = np.linalg.norm(found.ribbon.vertices - middle, axis=1) - 30
    way = next(one for one in found.ways if one.kind == "two halves")
    turn = np.radians(way.towards_deg)
    beside = (found.ribbon.vertices - middle) @ [np.cos(turn), np.sin(turn), 0.0]
    assert off.min() > -0.05
    assert np.ptp(beside[off < 3.0]) < 0.2  # a plane as far as teeth have to keep off
    assert np.abs(beside).max() > 2.0  # teeth further out
    assert found.tooth_mm > 0.0


def test_the_trace_runs_up_one_side_over_the_top_and_down_the_other(ball):
    case, found = ball
    trace = found.zigzag_mm
    sides = trace[trace[:, 2] < case.level_z_mm - 1e-6]
    assert np.hypot(*sides[:, :2].T) == pytest.approx(60.0, abs=0.1)
    assert trace[[0, -1], 2].tolist() == [0.0, 0.0]
    assert np.linalg.norm(np.diff(trace, axis=0), axis=1).max() < 5.0


def test_depths_are_told_from_both_sides_and_the_top(ball):
    _case, found = ball
    left, right = ([one for one in found.depths if one.side == side] for side in ("left", "right"))
    at = {one.z_mm: one.depth_mm for one in left}
    # closed form: half the chord of the block less that of the ball, at its middle's height
    assert at[40.0] == pytest.approx(60 - np.sqrt(30**2 - (40 - 36.35) ** 2), abs=2.0)
    assert [one.depth_mm for one in right] == pytest.approx([one.depth_mm for one in left], abs=2.5)
    (top,) = (one for one in found.depths if one.side == "top")
    assert top.depth_mm == pytest.approx(20.0, abs=1e-6)


def test_halves_are_pulled_so_that_nothing_stands_behind_anything():
    bar = shapes.box((80, 20, 40), (-40, -10, 0))
    knobs = [shapes.box((10, 20, 10), (x, -10, 39.9)) for x in (-30, 20)]
    solid = to_solid(bar) + to_solid(knobs[0]) + to_solid(knobs[1])
    along = split_along(to_mesh(solid), 0.0, 0.5)
    assert along.undercut_ml == pytest.approx(40 * 20 * 10 / 1e3, rel=0.05)  # between the knobs
    best = best_split(to_mesh(solid), 0.5, -1.0)
    assert (best.undercut_ml, best.excess) == (0.0, 0.0)
    assert abs(best.towards[0]) < 0.9


def plain_best(mesh, allowed):
    """Return the best of all directions, each of them measured whole."""
    low, high = mesh.bounds
    coarse, _ = clustered(mesh, float((high - low).max()) / SPLIT_DETAIL_CELLS)
    turns = (np.pi * np.arange(HALVES_DIRECTIONS) / HALVES_DIRECTIONS).tolist()
    splits = [split_along(coarse, turn, allowed) for turn in turns]
    best = min(range(len(turns)), key=lambda one: (splits[one].excess, splits[one].undercut_ml))
    return turns[best], splits


@pytest.mark.parametrize("allowed", [0.01, 0.3])
@pytest.mark.parametrize("shape", ["knob on every side", "knob on two sides", "round"])
def test_the_split_is_the_best_of_all_though_not_all_are_measured_whole(shape, allowed):
    solid = to_solid(shapes.cylinder(20, 60, segments=48))
    knob = to_solid(shapes.box((20.1, 8, 8), (19, -4, 26)))
    knob += to_solid(shapes.box((12, 30, 24), (38, -15, 18)))
    for deg in {"knob on every side": (0, 50, 100, 200, 290), "knob on two sides": (20, 200)}.get(
        shape, ()
    ):
        solid += knob.rotate((0.0, 0.0, deg))
    mesh = to_mesh(solid)
    turn, splits = plain_best(mesh, allowed)
    if shape == "knob on every side" and allowed < 0.1:
        assert min(one.excess for one in splits) > 0.0  # none goes without
    found = best_split(mesh, allowed, -1.0)
    assert found.towards.tolist() == [np.cos(turn), np.sin(turn)]


def test_a_knob_behind_a_neck_must_stretch_by_the_ratio_of_their_girths():
    # lying along x: a bar of 40 x 40, a neck of 20 x 20, a knob of 30 x 30
    solid = to_solid(shapes.box((60, 40, 40), (-40, -20, 0)))
    solid += to_solid(shapes.box((20.1, 20, 20), (19.9, -10, 10)))
    solid += to_solid(shapes.box((20, 30, 30), (39.9, -15, 5)))
    split = split_along(to_mesh(solid), 0.0, 0.1)
    assert split.needed_stretch == pytest.approx(30 / 20 - 1, rel=1e-9)
    assert split.excess > 0.0


def test_undercut_is_the_rubber_between_two_plates():
    # two plates of 40 x 40, 20 apart, on a foot: 40 x 20 x (40 - 5) mm of rubber between
    solid = to_solid(shapes.box((40, 40, 5)))
    for x in (0, 30):
        solid += to_solid(shapes.box((10, 40, 40), (x, 0, 0)))
    mesh = to_mesh(solid)
    assert split_along(mesh, 0.0, 0.5).undercut_ml == pytest.approx(20 * 40 * 35 / 1e3, rel=0.03)
    assert split_along(mesh, np.pi / 2, 0.5).undercut_ml == 0.0


def test_marked_faces_are_never_crossed():
    mesh = shapes.sphere(30, 96)
    middles = mesh.corners.mean(axis=1)
    free = halves(mesh, outline=())[1]
    turn = np.radians(free.ways[1].towards_deg)
    along = np.array([-np.sin(turn), np.cos(turn), 0.0])  # where the free line passes
    spot = np.linalg.norm(middles - 30 * along, axis=1) < 8
    settings = CutSettings(way="halves", split_deg=free.ways[1].towards_deg)
    case, found = halves(mesh, Marks(spot), settings, outline=())
    near, crossed = (
        nearest(case.master.vertices, case.master.faces, one.slit_mm)[0] for one in (found, free)
    )
    assert spot[crossed].any()
    assert not spot[near].any()
    assert found.proof.pieces == 2


def test_marks_all_round_leave_no_way_for_halves():
    mesh = shapes.sphere(30, 96)
    all_round = np.abs(mesh.corners.mean(axis=1)[:, 2]) < 10
    _, found = halves(mesh, Marks(all_round), outline=())
    assert found.kind == "none"
    (notice,) = found.warnings
    assert notice.code == "no_cut"
    assert "come round the faces marked" in notice.text
    assert abs(notice.at_mm[2] - RISER - 30) < 10.1  # on the band


def test_both_ways_stand_side_by_side_in_numbers(rabbit):
    _, found = rabbit
    slit, both = found.ways
    assert (slit.kind, both.kind) == ("one slit", "two halves")
    assert both.length_mm == found.slit_length_mm
    assert slit.length_mm < both.length_mm
    assert slit.area_cm2 < both.area_cm2
    assert slit.undercut_ml == 0.0 < both.undercut_ml
