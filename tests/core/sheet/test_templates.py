"""Wrap, board, riser and card pattern: measures read back from the PDF, and folded again."""

from __future__ import annotations

import dataclasses
import itertools
import math

import numpy as np
import pytest
import shapely

from blender_addon.core.case.bore import Bore
from blender_addon.core.funnel.card import card_bands, carded
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_mesh
from blender_addon.core.parts.funnel import funnel_solid
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.sheet.board import board_drawing, riser_drawing
from blender_addon.core.sheet.card import card_pattern
from blender_addon.core.sheet.drawing import Line, Text
from blender_addon.core.sheet.packing import pages_of
from blender_addon.core.sheet.page import Page, Placed
from blender_addon.core.sheet.pdf import pdf_bytes
from blender_addon.core.sheet.templates import templates_of
from blender_addon.core.sheet.tiles import tiling_of
from blender_addon.core.sheet.wrap import wrap_template
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased
from tests.core.layouts import layout
from tests.core.scans import bunny
from tests.judges.pdf_marks import pages_of as read_pages

SOME_CUT = layout().cut
"""A cut whose trace is one short line."""

PIPE = {"inner_diameter_mm": 154.051, "wall_mm": 7.112, "kind": "stock tube"}
"""ASTM D1785, 6 inch, Schedule 40: outside 6.625 in = 168.275 mm, least wall 0.280 in."""


def pipe(**more):
    return cased(shapes.cylinder(45, 100), **{**PIPE, **more})


def funnel_of(case, **settings):
    return funnel_stage(case, FunnelSettings(**settings), Watch())


def marks_of(drawing):
    """The strokes of a drawing as its PDF holds them, in the drawing's own frame."""
    width, height = drawing.size_mm
    placed = Placed(drawing, drawing.low_mm, drawing.high_mm, (0.0, 0.0))
    page = Page((width, height), placed=(placed,))
    (read,) = read_pages(pdf_bytes([page], drawing.title))
    return [(one, one.points_mm + drawing.low_mm) for one in read.strokes]


def uprights(drawing):
    return [
        (one, points[0, 0])
        for one, points in marks_of(drawing)
        if len(points) == 2 and abs(np.diff(points[:, 0])[0]) < 1e-6
    ]


def test_the_wrap_of_a_six_inch_pipe_is_as_long_as_its_girth_and_its_seams_lie_opposite():
    # pi x 168.275 = 528.65 mm, half of it 264.33 mm: closed form
    found = uprights(wrap_template(pipe()))
    at = sorted(x for one, x in found)
    seams = [x for one, x in found if one.width_mm == pytest.approx(0.4) and not one.dashed]
    assert at[-1] - at[0] == pytest.approx(528.65, abs=0.005)
    assert seams[1] - seams[0] == pytest.approx(264.33, abs=0.005)
    # and the back lies halfway between them, opposite the front
    (back,) = [x for one, x in found if one.dashed and one.width_mm == pytest.approx(0.2)]
    assert back == pytest.approx(sum(seams) / 2)


def test_the_saw_line_stands_the_case_s_height_over_the_foot():
    case = pipe()
    (saw,) = [p for one, p in marks_of(wrap_template(case)) if one.width_mm == pytest.approx(0.8)]
    assert saw[:, 1] == pytest.approx(case.height_mm, abs=1e-4)
    assert np.ptp(saw[:, 0]) == pytest.approx(528.65, abs=0.005)


@pytest.mark.parametrize("x", [0.0, 20.0, -15.0])
def test_the_channel_is_shaded_where_it_lies_round_the_tube(x):
    case = dataclasses.replace(pipe(), channel_at_mm=(x, 50.0), channel_mm=24.0)
    (shade,) = [p for one, p in marks_of(wrap_template(case)) if one.filled]
    middle = (shade[:, 0].min() + shade[:, 0].max()) / 2
    girth = math.pi * 168.275
    # from the front, counter-clockwise seen from above, is to the right seen from outside
    angle = math.degrees(math.atan2(50.0, x)) + 90.0
    assert middle == pytest.approx(girth * angle / 360, abs=1e-3)
    assert np.ptp(shade[:, 0]) == pytest.approx(24.0, abs=1e-3)


def test_a_wrap_in_inches_says_inches():
    words = " ".join(s.words for s in wrap_template(pipe(), inches=True).shapes if type(s) is Text)
    assert "6.62 in" in words
    assert " mm" not in words.replace("0.1 mm", "")


@pytest.mark.parametrize("inner", [100.0, 154.051, 190.0, 237.6, 302.0, 380.0])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_joint_of_sheets_runs_through_what_is_to_be_done(inner, paper):
    drawing = wrap_template(pipe(inner_diameter_mm=inner, channel_mm=20.0, channel_at=(0.0, 35.0)))
    tiling = tiling_of(drawing.size_mm, paper)
    joints = drawing.low_mm[0] + tiling.cell_mm[0] * np.arange(1, tiling.columns)
    lines = [s.ends_mm[:2, 0] for s in drawing.shapes if isinstance(s, Text) and not s.turn_deg]
    assert len(lines) >= 8
    assert not any(a < joint < b for joint in joints for a, b in lines)


def test_only_a_found_tube_gets_a_wrap():
    printed = pipe(kind="printed round")
    assert "tube_wrap" in [one.name for one in templates_of(pipe(), funnel_of(pipe()), SOME_CUT)]
    assert "tube_wrap" not in [
        one.name for one in templates_of(printed, funnel_of(printed), SOME_CUT)
    ]


def outlines(drawing):
    return [shape.points_mm for shape in drawing.shapes if isinstance(shape, Line) and shape.closed]


def test_the_board_shows_the_case_and_the_riser_where_they_stand():
    case = pipe()
    read = [p for one, p in marks_of(board_drawing(case)) if not one.filled]
    rings = sorted(float(np.hypot(*p.T).max()) for p in read if len(p) > 200)
    assert rings[0] == pytest.approx(154.051 / 2, abs=0.02)
    assert rings[1] == pytest.approx(168.275 / 2, abs=0.02)
    (riser,) = case.riser_outline
    assert any(p.shape == (len(riser) + 1, 2) and np.allclose(p[:-1], riser, atol=1e-4)
               for p in read)  # fmt: skip


@pytest.mark.parametrize("degrees", [0.0, 60.0, 150.0, 260.0])
def test_a_best_side_that_does_not_look_to_the_front_is_shown_on_the_board(degrees):
    plain = board_drawing(pipe())
    assert "best side" not in [s.words for s in plain.shapes if isinstance(s, Text)]
    way = np.array([math.cos(math.radians(degrees)), math.sin(math.radians(degrees))])
    drawing = board_drawing(dataclasses.replace(pipe(), front=tuple(way)))
    (arrow,) = [s.points_mm for s in drawing.shapes
                if isinstance(s, Line) and s.kind == "heavy"]  # fmt: skip
    assert arrow[1] / np.hypot(*arrow[1]) == pytest.approx(way)
    assert (arrow[1] - arrow[0]) @ way == pytest.approx(12.0)
    (words,) = [s for s in drawing.shapes if isinstance(s, Text) and s.words == "best side"]
    assert np.hypot(*words.ends_mm.T).max() < 154.051 / 2
    assert math.cos(math.radians(words.turn_deg)) > -0.2  # never upside down


def test_the_board_of_an_oval_case_is_oval():
    angle = np.linspace(0, 2 * np.pi, 120, endpoint=False)
    oval = Bore(np.column_stack([90 * np.cos(angle), 70 * np.sin(angle)]))
    drawing = board_drawing(dataclasses.replace(pipe(), bore=oval))
    edge = outlines(drawing)[0]
    assert np.ptp(edge, axis=0) == pytest.approx((180 + 46.2, 140 + 46.2), abs=0.3)
    words = [shape.words for shape in drawing.shapes if isinstance(shape, Text)]
    assert any("194.2 mm by 154.2 mm" in one for one in words)


def test_a_piece_without_riser_gets_no_drawing_of_one():
    assert riser_drawing(pipe(riser_mm=0.0)) is None
    assert riser_drawing(pipe(outline=())) is None


def test_the_hole_of_a_ring_s_riser_is_drawn_and_specks_are_not():
    ring = [40 * np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]])]
    ring.append(ring[0][::-1] / 2)
    speck = np.array([[60.0, 0], [60.5, 0], [60.5, 0.5]])
    drawing = riser_drawing(pipe(outline=(*ring, speck)))
    assert len(outlines(drawing)) == 2


# the card pattern

CASES = {
    "bar": lambda: cased(shapes.cylinder(50, 100)),
    "narrow": lambda: cased(shapes.cylinder(66, 100), at=(0, -4)),
    "bunny": lambda: cased(bunny(120.0), inner_diameter_mm=200.0),
}


@pytest.fixture(scope="module", params=list(CASES))
def card(request):
    case = CASES[request.param]()
    funnel = funnel_of(case)
    return case, funnel, card_bands(carded(funnel))


def folded(band):
    """Fold a flat band again, knowing only how much it turns at each line: every facet in space.

    The first facet is laid where it belongs; each next one is turned about the shared line until
    it lies as the solid's does. What is left over at the far end is what the pattern is wrong by.
    """
    low, high = band.low_mm, band.high_mm
    spatial = np.stack([band.placed_low, band.placed_high], axis=1)
    placed = [spatial[0]]
    for k in range(len(low) - 1):
        a, b = placed[-1]
        up = (b - a) / np.linalg.norm(b - a)
        inward = spatial[k + 1].mean(axis=0) - spatial[k].mean(axis=0)
        way = inward - (inward @ up) * up
        way /= np.linalg.norm(way)
        flat_up = (high[k] - low[k]) / np.linalg.norm(high[k] - low[k])
        flat_way = np.array([flat_up[1], -flat_up[0]])
        step = np.stack([low[k + 1], high[k + 1]]) - low[k]
        placed.append(a + (step @ flat_up)[:, None] * up + (step @ flat_way)[:, None] * way)
    return np.array(placed)


def test_the_pattern_folded_back_is_the_inside_of_the_printed_funnel(card):
    case, funnel, bands = card
    solid = to_mesh(funnel_solid(case, carded(funnel), PartsSettings()))
    for band in bands:
        found = folded(band)
        assert found[-1] == pytest.approx(
            np.stack([band.placed_low[-1], band.placed_high[-1]]), abs=0.1
        )
        # corners of the band lie on the solid, to 0.1 mm
        for points in (found[:, 0], found[:, 1], found.mean(axis=1)):
            assert distances_mm(points[::3], solid).max() < 0.1


def distances_mm(points, mesh):
    """Distance to the nearest triangle, by projection and clamping, in the tests' own words."""
    corners = mesh.vertices[mesh.faces]
    best = np.full(len(points), np.inf)
    samples = np.array([[i, j, 8 - i - j] for i in range(9) for j in range(9 - i)]) / 8
    for k, point in enumerate(points):
        near = np.linalg.norm(corners - point, axis=2).min(axis=1)
        box = np.maximum(corners.min(axis=1) - point, point - corners.max(axis=1)).max(axis=1)
        for face in corners[(box < 0.2) | (near < 0.2)]:
            best[k] = min(best[k], _to_triangle(point, face, samples))
    return best


def _to_triangle(point, face, samples):
    normal = np.cross(face[1] - face[0], face[2] - face[0])
    normal /= np.linalg.norm(normal)
    foot = point - (point - face[0]) @ normal * normal
    weights = np.linalg.lstsq(np.vstack([face.T, np.ones(3)]), np.append(foot, 1.0), rcond=None)[0]
    if (weights >= -1e-9).all():
        return abs((point - face[0]) @ normal)
    spread = samples @ face
    return np.linalg.norm(spread - point, axis=1).min()


def test_edges_that_are_glued_together_are_equally_long(card):
    _, _, bands = card
    length = {}
    for band in bands:
        for side, points in (("low", band.low_mm), ("high", band.high_mm)):
            steps = np.linalg.norm(np.diff(points, axis=0), axis=1).sum()
            length[band.name, side] = length.get((band.name, side), 0.0) + steps
    assert length["throat", "high"] == pytest.approx(length["cone", "low"], abs=0.1)
    assert length["cone", "high"] == pytest.approx(length["wall", "low"], abs=0.1)


def test_a_pattern_that_is_a_degree_off_is_found_out(card):
    # the check above sees a planted fault: a cone whose flat edge is a little too long
    _, _, bands = card
    cone = next(band for band in bands if band.name == "cone")
    wrong = dataclasses.replace(cone, high_mm=cone.high_mm * 1.01)
    off = folded(wrong)[-1] - np.stack([cone.placed_low[-1], cone.placed_high[-1]])
    assert np.linalg.norm(off, axis=1).max() > 0.1


def test_flaps_and_tabs_never_overlap_their_neighbours(card):
    case, funnel, _ = card
    for drawing in card_pattern(case, funnel):
        tabs = [s.points_mm for s in drawing.shapes if isinstance(s, Line) and len(s.points_mm) == 4
                and not s.closed]  # fmt: skip
        spans = sorted((t[:, 0].min(), t[:, 0].max()) for t in tabs[1:])
        assert all(a[1] <= b[0] + 1e-6 for a, b in itertools.pairwise(spans))


def test_the_hooks_go_over_the_rim(card):
    case, funnel, _ = card
    hooks = next(one for one in card_pattern(case, funnel) if one.name == "funnel_hooks")
    folds = sorted({float(s.points_mm[0, 1]) for s in hooks.shapes
                    if isinstance(s, Line) and not s.closed})  # fmt: skip
    # by hand: the card's throat stands 1 mm off the wall, the case is 4 mm thick, 1 mm to spare
    assert folds[1] - folds[0] == pytest.approx(1 + 4 + 1, abs=0.02)


def test_the_card_throat_goes_into_the_case_all_round(card):
    case, funnel, _ = card
    narrower = carded(funnel).throat_outline_mm
    inside = case.bore.distances_mm(narrower)
    assert inside.min() == pytest.approx(1.0, abs=0.02)
    # 1 mm of air to the printed one's inside on every side, and no more
    ring = shapely.Polygon(funnel.throat_outline_mm).exterior
    off = shapely.distance(ring, shapely.points(narrower))
    assert off == pytest.approx(1.0, abs=1e-3)


def test_small_drawings_share_a_sheet_and_none_is_lost_or_overlaps(card):
    case, funnel, _ = card
    drawings = templates_of(case, funnel, SOME_CUT)
    for paper in ("A4", "Letter"):
        pages = pages_of(drawings, paper)
        names = [one.drawing.name for page in pages for one in page.placed]
        assert set(names) == {one.name for one in drawings}
        for page in pages:
            boxes = [(np.array(p.at_mm), np.array(p.at_mm) + p.drawing.size_mm)
                     for p in page.placed if len(page.placed) > 1]  # fmt: skip
            for k, (low, high) in enumerate(boxes):
                assert (low >= 10.0 - 1e-9).all()
                assert (high <= np.array(page.size_mm) - 10.0 + 1e-9).all()
                for other_low, other_high in boxes[:k]:
                    assert min(np.minimum(high, other_high) - np.maximum(low, other_low)) <= 1e-9


@pytest.mark.parametrize("long_mm", [150.0, 400.0, 900.0])
def test_a_throat_with_sides_longer_than_a_sheet_still_gets_a_whole_pattern(long_mm):
    case = CASES["bar"]()
    throat = np.array([[-1.0, -0.05], [1.0, -0.05], [1.0, 0.05], [-1.0, 0.05]]) * long_mm / 2.0
    funnel = dataclasses.replace(funnel_of(case), throat_outline_mm=throat)
    drawings = card_pattern(case, funnel)
    assert len(drawings) >= 4
    bands = card_bands(carded(funnel))
    assert all(len(band.low_mm) >= 2 for band in bands)
    around = [np.linalg.norm(np.diff(band.low_mm, axis=0), axis=1).sum() for band in bands]
    throats = [length for band, length in zip(bands, around, strict=True) if band.name == "throat"]
    sides = carded(funnel).throat_outline_mm
    whole = np.linalg.norm(sides - np.roll(sides, -1, axis=0), axis=1).sum()
    assert sum(throats) == pytest.approx(whole, rel=1e-6)
