"""Pictures of the cut: where lines lie on them at the stated scale, what is dashed, which side."""

import numpy as np
import pytest

from blender_addon.core.constants.sheet import CUT_VIEW_MM
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.sheet.cut_views import cut_figures, cut_views_drawing
from blender_addon.core.sheet.drawing import Line, Picture, Text
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage

CASE = cased(shapes.cylinder(25, 80), inner_diameter_mm=120.0, at=(0.0, 0.0))
BACK = cut_stage(CASE, NO_MARKS, CutSettings(least_slit_mm=60.0), Watch())
HALVES = cut_stage(CASE, NO_MARKS, CutSettings(way="halves"), Watch())


def lines(figure, kind):
    found = [one for one in figure.drawing.shapes if isinstance(one, Line)]
    return [one.points_mm for one in found if one.kind == kind and not one.closed]


def words(figure):
    return {one.words for one in figure.drawing.shapes if isinstance(one, Text)}


def test_towards_the_slit_all_of_it_is_seen_at_the_stated_scale():
    front, _ = cut_figures(CASE, BACK)
    # the block is 120 mm wide, 84 mm are there: 1 to 1.43 at the least
    assert front.caption == "Towards the slit, scale 1:1.5"
    (slit,) = lines(front, "heavy")
    assert lines(front, "fine dash") == []
    assert np.ptp(slit[:, 1]) == pytest.approx(np.ptp(BACK.slit_mm[:, 2]) / 1.5)
    assert slit[:, 1].max() == pytest.approx(BACK.slit_mm[:, 2].max() / 1.5)
    assert words(front) == {"BACK"}  # seen from there


def test_the_jagged_line_lies_at_the_edge_of_the_block_from_the_side():
    _, side = cut_figures(CASE, BACK)
    (jag,) = lines(side, "cut")
    (block,) = [one for one in side.drawing.shapes if isinstance(one, Line) and one.closed]
    wide = np.ptp(block.points_mm[:, 0])
    assert wide == pytest.approx(120.0 / 1.5, rel=1e-3)
    assert np.abs(jag[:, 0]).min() > 0.45 * wide
    assert np.ptp(block.points_mm[:, 1]) == pytest.approx(CASE.level_z_mm / 1.5)
    left = "left" in side.caption
    assert (jag[:, 0].mean() < 0) == left
    back = next(one for one in side.drawing.shapes if getattr(one, "words", "") == "BACK")
    assert (back.at_mm[0] < 0) == left


def test_the_piece_is_drawn_where_it_stands_in_the_block():
    for figure in cut_figures(CASE, BACK):
        (picture,) = [one for one in figure.drawing.shapes if isinstance(one, Picture)]
        rows, columns = np.nonzero(picture.pixels.min(axis=2) < 250)
        pixel = picture.size_mm[1] / picture.pixels.shape[0]
        assert (np.ptp(columns) + 1) * pixel == pytest.approx(50 / 1.5, abs=2 * pixel)
        low = picture.at_mm[1] + picture.size_mm[1] - (rows.max() + 1) * pixel
        assert low == pytest.approx(6.35 / 1.5, abs=2 * pixel)


@pytest.mark.parametrize("start", [45.0, 135.0, 225.0, 315.0])
def test_it_is_looked_at_from_the_side_on_which_the_slit_lies(start):
    case = cased(shapes.cylinder(15, 80), inner_diameter_mm=140.0, at=(25.0, 0.0))
    settings = CutSettings(start_deg=start, least_slit_mm=60.0)
    front, side = cut_figures(case, cut_stage(case, NO_MARKS, settings, Watch()))
    for figure in (front, side):
        seen = sum(np.ptp(one[:, 1]) for one in lines(figure, "heavy"))
        assert seen > sum(np.ptp(one[:, 1]) for one in lines(figure, "fine dash"))


def test_of_halves_the_far_side_of_the_parting_line_is_dashed():
    front, side = cut_figures(CASE, HALVES)
    assert front.caption.startswith("Along the pull, ")
    dashed = lines(side, "fine dash")
    seen = lines(side, "heavy")
    assert dashed
    assert seen
    # from its side the plane of the parting is seen edge on, near the middle of the piece
    assert all(np.abs(one[:, 0]).max() < 26 / 1.5 for one in (*dashed, *seen))


def test_two_views_fit_side_by_side_on_either_paper():
    figures = cut_figures(CASE, BACK)
    assert all(one.drawing.size_mm[0] <= CUT_VIEW_MM[0] + 2.0 + 1e-9 for one in figures)
    (drawing,) = cut_views_drawing(figures)
    assert drawing.size_mm[0] < 185.0
    captions = {one.words for one in drawing.shapes if isinstance(one, Text)}
    assert {one.caption for one in figures} <= captions
    assert cut_views_drawing(()) == ()
