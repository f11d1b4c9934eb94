"""The board: its groove, its rim, its riser and its arrow, whole or in tiles."""

from __future__ import annotations

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.parts.tiles import board_tiles
from tests import shapes
from tests.core.cases import cased
from tests.core.parts.made import by_name, case_of, laid_out, made, placed


def _union(solids):
    return manifold3d.Manifold.batch_boolean(list(solids), manifold3d.OpType.Add)


@pytest.mark.parametrize("fit", [0.2, 0.4])
@pytest.mark.parametrize("name", ["usual", "stock tube"])
def test_the_foot_stands_in_the_groove_with_the_fit_on_each_side(name, fit):
    case = case_of(name)
    _, parts = made(case, fit_mm=fit)
    halves, board = _union(placed(part) for part in parts[:2]), placed(parts[2])
    assert halves.min_gap(board.translate((0, 0, -0.5)), 5.0) == pytest.approx(fit, abs=0.02)
    # it rests on its floor, and the rim holds it: moved by more than the fit to a side, it cuts in
    assert (halves.translate((0, 0, -0.1)) ^ board).volume() > 50
    for way in ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)):
        shift = np.array(way) * (fit + 0.2)
        assert (halves.translate(tuple(shift)) ^ board).volume() > 10


def test_a_printed_case_has_a_wall_of_the_groove_inside_its_foot():
    # the way out below the foot goes down, under and up again
    case, _, parts = laid_out("usual")
    board = placed(by_name(parts, "base board")[0])
    radius = case.inner_diameter_mm / 2
    for out, top in ((-1.0, 0.0), (2.0, -2.0), (6.8, 5.0)):
        probe = manifold3d.Manifold.cylinder(20, 0.1, 0.1, 8).translate((0, -radius - out, -5.5))
        assert (probe ^ board).bounding_box()[5] == pytest.approx(top, abs=1e-4)


def test_the_riser_is_the_outline_raised():
    _, _, parts = laid_out("two feet")
    # a mm over the top of the rim only the riser is left
    section = placed(by_name(parts, "base board")[0]).slice(5.5)
    assert section.num_contour() == 2
    assert section.area() == pytest.approx(2 * 30 * 20, rel=0.01)


def test_the_arrow_stands_out_at_the_back():
    case, _, parts = laid_out("usual")
    plan = placed(by_name(parts, "base board")[0]).project()
    left, front, right, back = plan.bounds()
    assert left == pytest.approx(-right)
    assert back == pytest.approx(-front + 12)
    tip = np.vstack(plan.to_polygons())
    assert tip[tip[:, 1] > back - 0.01, 0] == pytest.approx(0, abs=0.01)
    assert case.channel_at_mm[1] > 0


def test_a_board_keeps_in_one_piece_by_less_margin_where_that_helps():
    case = cased(shapes.cylinder(60, 60), inner_diameter_mm=190.0)
    (board,) = by_name(made(case)[1], "base board")
    left, _, right, _ = placed(board).project().bounds()
    # 190 + 2 x (4 wall + 0.3 fit + 4 rim) = 206.6, and 4 on each side where 12 are usual
    assert right - left == pytest.approx(206.6 + 8, abs=0.1)
    assert board.fits_bed
    (wide,) = by_name(made(case, bed_x_mm=300.0, bed_y_mm=300.0)[1], "base board")
    left, _, right, _ = placed(wide).project().bounds()
    assert right - left == pytest.approx(206.6 + 24, abs=0.1)


def test_an_outline_that_touches_itself_still_makes_a_board():
    # two squares that meet in one corner: four faces on one edge, were it raised as it is
    squares = [np.array([[a, a], [a + 20, a], [a + 20, a + 20], [a, a + 20.0]]) for a in (-20, 0)]
    case = cased(shapes.cylinder(40, 60), at=(0, -8), outline=tuple(squares))
    _, parts = made(case)
    board = by_name(parts, "base board")[0]
    assert trimesh.Trimesh(board.mesh.vertices, board.mesh.faces, process=False).is_watertight


def test_tiles_make_the_board_again_and_lock_with_the_fit():
    _, _, whole = laid_out("usual")
    _, _, parts = laid_out("small bed")
    board = placed(by_name(whole, "base board")[0])
    tiles = [placed(part) for part in by_name(parts, "base board")]
    assert len(tiles) == 4
    lost = (board - _union(tiles)).volume()
    # only the air round the keys is lost: of eight keys 0.3 wide, 9 deep, 14 across and 6 thick
    assert 0 < lost < 8 * 0.3 * (2 * 10 + 14) * 12
    assert (_union(tiles) - board).volume() < 0.5
    # pulled apart in plan they hold: no tile slides off its neighbour to the left or the right
    for way in ((3, 0, 0), (-3, 0, 0), (0, 3, 0), (0, -3, 0)):
        meets = [
            (tile.translate(way) ^ _union(tiles[:k] + tiles[k + 1 :])).volume()
            for k, tile in enumerate(tiles)
        ]
        assert min(meets) > 10


def test_a_board_too_large_for_any_split_stays_whole():
    plate = manifold3d.Manifold.cube((2000, 2000, 6))
    assert board_tiles(plate, PartsSettings()) == [("base board", plate)]


def plate_with_ribs(*ribs):
    """Return a board of 200 x 100 mm, its top at z = 0, with ribs across it, (low, high) in y."""
    plate = manifold3d.Manifold.cube((200, 100, 6)).translate((-100, -50, -6))
    for low, high in ribs:
        plate += manifold3d.Manifold.cube((200, high - low, 7)).translate((-100, low, -1))
    return plate


@pytest.mark.parametrize(
    ("ribs", "middle"),
    [
        ([], 0.0),
        # half the key and 2 mm of land beyond the rib's edge, in steps of 2 mm: 7 + 2 + 2, so 12
        ([(-2.0, 2.0)], 12.0),
        ([(-30.0, 30.0)], 0.0),  # wholly on a riser it may stay
        ([(4.0, 40.0)], 6.0),  # 4 - 7 - 2 = -5, so it goes to -6
    ],
)
def test_a_key_stands_where_no_edge_of_riser_or_rim_runs_over_it(ribs, middle):
    (_, left), _ = board_tiles(
        plate_with_ribs(*ribs), PartsSettings(bed_x_mm=130.0, bed_y_mm=130.0)
    )
    key = left.slice(-3.0) ^ manifold3d.CrossSection.square((50, 200)).translate((0.5, -100))
    _, low, _, high = key.bounds()
    assert high - low == pytest.approx(14.0, abs=0.01)
    assert abs(low + high) / 2 == pytest.approx(middle, abs=0.01)


@pytest.mark.parametrize(("radius", "bed"), [(66.0, 70.0), (73.0, 80.0), (76.0, 80.0)])
def test_no_tile_of_a_round_board_is_two_loose_bows(radius, bed):
    # cut into the fewest tiles that fit, a corner of the board would hang on nothing
    arrow = manifold3d.CrossSection.square((12.0, radius + 14.0)).translate((-6.0, 0.0))
    plan = manifold3d.CrossSection.circle(radius, 96) + arrow
    tiles = board_tiles(plan.extrude(6), PartsSettings(bed_x_mm=bed, bed_y_mm=bed))
    assert len(tiles) > 4
    assert all(len(solid.decompose()) == 1 for _, solid in tiles)
    assert sum(solid.volume() for _, solid in tiles) == pytest.approx(6 * plan.area(), rel=0.01)


def test_a_board_that_leaves_corners_of_its_box_free_goes_into_tiles_without_them():
    angle = manifold3d.CrossSection(
        [[(0, 0), (600, 0), (600, 100), (100, 100), (100, 600), (0, 600)]]
    )
    tiles = board_tiles(angle.extrude(6), PartsSettings())
    assert len(tiles) == 5
    assert len({name for name, _ in tiles}) == 5
    assert all(len(tile.decompose()) == 1 for _, tile in tiles)
    assert sum(tile.volume() for _, tile in tiles) == pytest.approx(angle.area() * 6, rel=1e-3)
    low, high = (
        np.array([tile.bounding_box() for _, tile in tiles]).reshape(-1, 2, 3).swapaxes(0, 1)
    )
    assert (high - low).max() <= 220.0
