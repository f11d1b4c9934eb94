"""The parts in their places and on the printer, judged by other libraries."""

from __future__ import annotations

import io
import math

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.errors import BadSettingError
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.parts.flanges import bolt_heights, flanges_of
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.parts.stage import parts_stage
from blender_addon.core.rubber.settings import RubberSettings
from blender_addon.core.rubber.stage import rubber_stage
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import airless, cased
from tests.core.scans import bunny

NAMES = ["case back", "case front", "base board", "funnel"]
TOUCH_MM3 = 0.5
"""What rounding to float32 lets touching faces of 100 cm2 overlap: 10 000 mm2 by 3e-5 mm."""

SMALL = {"riser_mm": 3.0, "cover_mm": 7.0, "freeboard_mm": 10.0, "inner_diameter_mm": 70.0}
CASES = {
    "usual": lambda: cased(shapes.cylinder(50, 200)),
    "tall": lambda: cased(shapes.cylinder(60, 460), inner_diameter_mm=200.0),
    "low": lambda: cased(shapes.cylinder(15, 10), at=(0, -5), **SMALL),
    "no riser": lambda: cased(shapes.sphere(40, 48), riser_mm=0.0),
    "stock tube": lambda: cased(shapes.cylinder(50, 90), kind="stock tube", wall_mm=3.2),
    "no freeboard": lambda: cased(shapes.cylinder(50, 90), freeboard_mm=0.0),
    "two feet": lambda: cased(
        shapes.joined(
            shapes.box((30, 20, 60), (-40, 0, 0)),
            shapes.box((30, 20, 60), (10, 0, 0)),
            shapes.box((80, 20, 20), (-40, 0, 61)),
        ),
        outline=tuple(
            np.array([[x, -18], [x + 30, -18], [x + 30, 2], [x, 2.0]]) for x in (-40, 10)
        ),
    ),
}


def made(case, bowl_ml=300.0, **settings):
    funnel = funnel_stage(case, FunnelSettings(bowl_ml=bowl_ml), Watch())
    return funnel, parts_stage(case, funnel, PartsSettings(**settings), Watch()).parts


@pytest.fixture(scope="module", params=list(CASES))
def laid(request):
    case = CASES[request.param]()
    funnel, parts = made(case)
    return case, funnel, parts


def placed(part):
    return to_solid(part.mesh.moved(part.to_assembly))


def in_job_frame(part):
    return part.mesh.moved(part.to_assembly).vertices


def test_there_are_four_parts_to_print(laid):
    _, _, parts = laid
    assert [part.name for part in parts] == NAMES
    assert [part.role for part in parts] == ["case", "case", "base", "funnel"]
    assert all(part.quantity == 1 for part in parts)


def test_trimesh_finds_each_part_one_closed_solid(laid):
    for part in laid[2]:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight
        assert judge.is_winding_consistent
        assert judge.body_count == 1
        assert judge.area_faces.min() > 0
        assert judge.volume / 1000 == pytest.approx(part.volume_ml, rel=1e-9)
        assert part.volume_ml > 0
        assert judge.extents == pytest.approx(part.size_mm, abs=1e-4)


def test_an_stl_of_each_part_is_closed_when_read_back(laid):
    # an STL has no shared corners: a reader joins those that are equal in float32
    for part in laid[2]:
        stl = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        back = trimesh.load(io.BytesIO(stl.export(file_type="stl")), file_type="stl")
        assert back.is_watertight
        assert len(back.faces) == len(part.mesh.faces)
        assert len(back.vertices) == len(part.mesh.vertices)


def test_each_part_lies_on_the_printer_centred(laid):
    for part in laid[2]:
        low, high = part.mesh.bounds
        assert low[2] == 0
        assert low[:2] == pytest.approx(-high[:2], abs=1e-4)
        turn = part.to_assembly[:3, :3]
        assert turn @ turn.T == pytest.approx(np.eye(3))
        assert np.linalg.det(turn) == pytest.approx(1)


def test_nothing_overhangs_more_than_45_degrees_on_the_printer(laid):
    # 45 degrees without supports: common practice, no source
    for part in laid[2]:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        off_bed = judge.triangles[:, :, 2].max(axis=1) > 1e-3
        hangs = off_bed & (judge.face_normals[:, 2] < -math.cos(math.radians(45.0)) - 1e-3)
        assert judge.area_faces[hangs].sum() < 1e-3, part.name


def test_no_part_cuts_into_another_or_into_the_master(laid):
    case, _, parts = laid
    solids = [to_solid(case.master), *(placed(part) for part in parts)]
    for k, one in enumerate(solids):
        for other in solids[:k]:
            assert (one ^ other).volume() < TOUCH_MM3


def test_each_part_is_where_it_belongs(laid):
    case, funnel, parts = laid
    back, front, board, spout = (in_job_frame(part) for part in parts)
    outer = case.inner_diameter_mm / 2 + case.wall_mm
    for half, side in ((back, 1), (front, -1)):
        assert half[:, 2].min() == pytest.approx(0, abs=1e-4)
        assert half[:, 2].max() == pytest.approx(case.height_mm, abs=1e-4)
        assert (half[:, 1] * side).min() == pytest.approx(0, abs=1e-4)
        assert np.abs(half[:, 0]).max() == pytest.approx(outer + 16, abs=1e-3)
    assert board[:, 2].min() == pytest.approx(-6, abs=1e-4)
    assert board[:, 2].max() == pytest.approx(max(case.riser_mm, 5), abs=1e-4)
    assert spout[:, 2].max() == pytest.approx(funnel.top_z_mm, abs=1e-4)
    throat = spout[
        np.abs(spout[:, None, :2] - funnel.throat_outline_mm).max(axis=2).min(axis=1) < 0.01
    ]
    # without freeboard the throat ends over the rim, in the saddle that rests there
    lowest = min(funnel.throat_bottom_z_mm, case.height_mm)
    assert throat[:, 2].min() == pytest.approx(lowest, abs=1e-4)


def test_the_bore_is_never_narrower_than_the_tube(laid):
    case, _, parts = laid
    radius = case.inner_diameter_mm / 2
    bar = manifold3d.Manifold.cylinder(case.height_mm, radius, radius, 2048)
    for part in parts[:2]:
        assert (placed(part) ^ bar).volume() < TOUCH_MM3
    wider = manifold3d.Manifold.cylinder(case.height_mm, radius + 0.05, radius + 0.05, 2048)
    assert (placed(parts[0]) ^ wider).volume() > TOUCH_MM3


def test_case_and_board_enclose_just_the_rubber(laid):
    # flood the assembled case to the level and take the pool inside, without any closed form
    case, funnel, parts = laid
    level = case.level_z_mm
    block = manifold3d.Manifold.cube((1000, 1000, level)).translate((-500, -500, 0))
    solids = [placed(part) for part in parts[:3]]
    # the wax: a film in the outer half of the walls, where parts only touch
    middle = (case.inner_diameter_mm + case.wall_mm) / 2
    seam = manifold3d.Manifold.cube((1000, 0.02, level), center=True).translate((0, 0, level / 2))
    film = manifold3d.Manifold.cube((1000, 1000, 0.02), center=True)
    wax = (seam + film) - manifold3d.Manifold.cylinder(1000, middle, center=True)
    pieces = (block - solids[0] - solids[1] - solids[2] - wax).decompose()
    inside = [p for p in pieces if max(np.abs(p.bounding_box())[:2]) < 499]
    pool = max(inside, key=lambda piece: piece.volume())
    rubber_ml = (pool - to_solid(case.master)).volume() / 1000
    rubber = rubber_stage(airless(), case, funnel, RubberSettings(), Watch())
    assert rubber_ml == pytest.approx(rubber.volume_ml, rel=0.005)


def test_bolts_pass_straight_through_both_halves(laid):
    case, _, parts = laid
    flanges = flanges_of(case, PartsSettings())
    halves = placed(parts[0]) + placed(parts[1])
    bolt = manifold3d.Manifold.cylinder(100, 2, 2, 64).rotate((90, 0, 0)).translate((0, 50, 0))
    nail = manifold3d.Manifold.cylinder(100, 3, 3, 64).rotate((90, 0, 0)).translate((0, 50, 0))
    for side in (-1, 1):
        for z in flanges.bolt_z_mm:
            at = (side * flanges.bolt_x_mm, 0, z)
            assert (halves ^ bolt.translate(at)).volume() == 0
            assert (halves ^ nail.translate(at)).volume() > 10
    # a hole is a handle: V - E + F = 2 - 2 g, one for each bolt and side
    assert to_solid(parts[0].mesh).genus() == 2 * len(flanges.bolt_z_mm)


@pytest.mark.parametrize("pitch", [15.0, 60.0, 300.0])
@pytest.mark.parametrize("length", [30.0, 137.0, 490.0])
def test_bolts_are_evenly_spaced_within_the_pitch_and_off_the_ends(pitch, length):
    heights = np.array(bolt_heights(6.5, 6.5 + length, 10.0, pitch))
    assert heights.min() >= 6.5 + 10.0 - 1e-9
    assert heights.max() <= 6.5 + length - 10.0 + 1e-9
    assert heights.mean() == pytest.approx(6.5 + length / 2)
    gaps = np.diff(heights)
    if len(gaps):
        assert gaps == pytest.approx(gaps[0])
        assert 10.0 - 1e-9 <= gaps[0] <= pitch + 1e-9
        fewer = (length - 20.0) / (len(gaps) - 1) if len(gaps) > 1 else math.inf
        assert fewer > pitch


@pytest.mark.parametrize(
    ("bolt", "across"), [(2, 5), (3, 7), (4, 9), (5, 10), (6, 12), (8, 16), (10, 20), (12, 24)]
)
def test_a_washer_lies_on_the_flange(bolt, across):
    # plain washers, normal series, outside diameter: ISO 7089 (from memory)
    case = CASES["usual"]()
    flanges = flanges_of(case, PartsSettings(bolt_mm=float(bolt), flange_mm=30.0))
    outer = 84.0
    assert flanges.bolt_x_mm - across / 2 >= outer
    assert flanges.bolt_x_mm + across / 2 <= outer + 30
    assert min(flanges.bolt_z_mm) - across / 2 >= flanges.low_mm
    assert max(flanges.bolt_z_mm) + across / 2 <= flanges.high_mm
    # ISO 273, clearance holes, from memory: medium M4 4.5, M6 6.6, M12 13.5
    assert bolt < flanges.hole_mm <= bolt * 1.4


def test_the_foot_stands_in_the_rim_with_the_fit():
    case = CASES["usual"]()
    _, parts = made(case, fit_mm=0.4)
    halves, board = placed(parts[0]) + placed(parts[1]), placed(parts[2])
    assert halves.min_gap(board.translate((0, 0, -0.5)), 5.0) == pytest.approx(0.4, abs=2e-3)
    # the rim holds it: moved by more than the fit to any side, it cuts in
    for way in ((0.6, 0, 0), (-0.6, 0, 0), (0, 0.6, 0), (0, -0.6, 0)):
        assert (halves.translate(way) ^ board).volume() > 10


def test_the_funnel_hangs_on_the_rim_and_cannot_slide_off():
    case = CASES["usual"]()
    _, parts = made(case)
    halves, spout = placed(parts[0]) + placed(parts[1]), placed(parts[3])
    assert (spout.translate((0, 0, -0.2)) ^ halves).volume() > 10  # it rests on the rim
    assert (spout.translate((0, 0, 0.2)) ^ halves).volume() == 0
    for way in ((0, 2.5, 0), (0, -2.5, 0)):
        assert (spout.translate(way) ^ halves).volume() > 10


def test_a_bar_of_the_throat_s_shape_falls_through_and_water_stays_in_the_bowl():
    case = CASES["usual"]()
    funnel, parts = made(case)
    x, y = funnel.at_mm
    spout = placed(parts[3])
    throat = manifold3d.CrossSection([funnel.spread.ring(-0.01)])
    bar = throat.extrude(1000).translate((0, 0, -100))
    assert (spout ^ bar).volume() == 0
    assert (spout ^ throat.offset(0.1).extrude(1000)).volume() > 1
    # stop the throat: what a block over it then encloses is the bowl
    low, high = funnel.cone_z_mm, funnel.top_z_mm - 0.01
    block = manifold3d.Manifold.cube((400, 400, high - low)).translate((x - 200, y - 200, low))
    pools = [p for p in (block - spout).decompose() if p.bounding_box()[3] < x + 199]
    bowl_ml = max(pool.volume() for pool in pools) / 1000
    assert bowl_ml == pytest.approx(funnel.bowl_ml, rel=1e-3)


def test_the_riser_is_the_outline_raised():
    case = CASES["two feet"]()
    _, parts = made(case)
    # a mm over the top of the rim only the riser is left
    section = placed(parts[2]).slice(5.5)
    assert section.num_contour() == 2
    assert section.area() == pytest.approx(2 * 30 * 20, rel=0.01)


def test_an_outline_that_touches_itself_still_makes_a_board():
    # two squares that meet in one corner: four faces on one edge, were it raised as it is
    squares = [np.array([[a, a], [a + 20, a], [a + 20, a + 20], [a, a + 20.0]]) for a in (-20, 0)]
    case = cased(shapes.cylinder(40, 60), at=(0, -8), outline=tuple(squares))
    _, parts = made(case)
    judge = trimesh.Trimesh(parts[2].mesh.vertices, parts[2].mesh.faces, process=False)
    assert judge.is_watertight


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"flange_mm": 8.0, "bolt_mm": 4.0}, "parts.flange_mm"),
        ({"flange_mm": 16.0, "bolt_mm": 12.0}, "parts.flange_mm"),
        ({"flange_thickness_mm": 20.0}, "parts.flange_thickness_mm"),
        ({"flange_mm": 60.0, "bolt_mm": 12.0}, "parts.bolt_mm"),
    ],
)
def test_flanges_and_bolts_that_do_not_fit_are_refused(settings, name):
    with pytest.raises(BadSettingError) as caught:
        made(CASES["low"](), **settings)
    assert caught.value.name == name
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("seed", range(6))
def test_parts_stay_closed_whatever_the_sizes(seed):
    random = np.random.default_rng(seed)
    radius, gap = random.uniform(15, 90), random.uniform(14, 40)
    case = cased(
        shapes.cylinder(radius, random.uniform(20, 400)),
        inner_diameter_mm=2 * (radius + gap),
        wall_mm=random.uniform(1, 10),
        at=(0.0, -random.uniform(0.5, 0.9) * gap),
    )
    _, parts = made(
        case,
        bowl_ml=random.uniform(10, 3000),
        fit_mm=random.uniform(0.05, 2),
        flange_mm=random.uniform(16, 60),
        flange_thickness_mm=random.uniform(2, min(radius / 2, 20)),
    )
    solids = [placed(part) for part in parts]
    assert all(trimesh.Trimesh(p.mesh.vertices, p.mesh.faces).is_volume for p in parts)
    assert (solids[3] ^ (solids[0] + solids[1])).volume() < TOUCH_MM3
    assert (solids[2] ^ (solids[0] + solids[1])).volume() < TOUCH_MM3


def test_the_parts_of_a_scan():
    case = cased(bunny(120.0), inner_diameter_mm=200.0)
    _, parts = made(case)
    assert [part.name for part in parts] == NAMES
    assert all(to_solid(part.mesh).status() == manifold3d.Error.NoError for part in parts)
    master = to_solid(case.master)
    assert all((placed(part) ^ master).volume() < TOUCH_MM3 for part in parts)
