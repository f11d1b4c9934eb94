"""The knife's line at true size: where it lies on the block when the paper is wrapped round it."""

import numpy as np
import pytest

from blender_addon.core.case.girth import around_mm
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.sheet.drawing import Line, Text
from blender_addon.core.sheet.knife_card import knife_card
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage

CASE = cased(shapes.cylinder(25, 80), inner_diameter_mm=120.0, at=(0.0, 0.0))


def cut(**settings):
    return cut_stage(CASE, NO_MARKS, CutSettings(**settings), Watch())


def knife_lines(drawing):
    return [
        one.points_mm for one in drawing.shapes if isinstance(one, Line) and one.kind == "heavy"
    ]


def test_wrapped_round_the_block_the_line_is_the_knifes_trace():
    found = cut(least_slit_mm=60.0)
    (card,) = knife_card(CASE, found)
    (line,) = knife_lines(card)
    # by hand: so far round from the front (-y), counter-clockwise as it is seen from above
    angle = line[:, 0] / 60.0 - np.pi / 2
    wrapped = np.column_stack([60 * np.cos(angle), 60 * np.sin(angle), line[:, 1]])
    assert wrapped == pytest.approx(found.zigzag_mm, abs=1e-9)


def test_every_depth_stands_beside_the_line_at_its_height():
    found = cut()
    (card,) = knife_card(CASE, found)
    texts = [one for one in card.shapes if isinstance(one, Text)]
    words = [one.words for one in texts]
    for depth in found.depths:
        beside = [one.words for one in texts if abs(one.at_mm[1] - depth.z_mm) < 2]
        assert f"{depth.depth_mm:.1f} mm" in beside
    assert "Underside of the block" in words


def test_the_card_tells_what_suction_can_hold():
    (card,) = knife_card(CASE, cut())
    words = [one.words for one in card.shapes if isinstance(one, Text)]
    # a circle of 50 mm under one atmosphere, by hand: 199 N
    assert "Let air in at the cut first; suction can hold up to 199 N." in words


def test_halves_have_a_line_up_either_side_and_one_over_the_top():
    found = cut(way="halves")
    sides, top = knife_card(CASE, found)
    assert len(knife_lines(sides)) == 2
    (over,) = knife_lines(top)
    assert np.hypot(*over[[0, -1]].T) == pytest.approx(60.0, abs=1.5)
    assert sides.size_mm[0] > np.pi * 120  # all round
    words = {one.words for one in sides.shapes if isinstance(one, Text)}
    assert {"FRONT", "BACK", "SEAM"} <= words


def test_round_and_polygon_agree_on_how_far_round_a_point_is():
    bore = CASE.bore
    angle = np.linspace(0.1, 6.2, 17)
    points = 60 * np.column_stack([np.cos(angle), np.sin(angle)])
    polygon = type(bore)(bore.outline_mm)
    assert not polygon.is_round
    assert around_mm(polygon, points) == pytest.approx(around_mm(bore, points), abs=0.05)


@pytest.mark.parametrize(
    "settings",
    [{}, *({"start_deg": start} for start in (65.0, 75.0, 105.0, 115.0)),
     *({"way": "halves", "split_deg": turn} for turn in (15.0, 165.0))],
)  # fmt: skip
def test_no_words_lie_on_the_lines_of_the_card(settings):
    found = cut(**{"least_slit_mm": 80.0, **settings})
    card = knife_card(CASE, found)[0]
    lines = [one.points_mm for one in card.shapes if isinstance(one, Line)]
    dense = np.vstack([
        np.column_stack([np.interp(np.linspace(0, k, 400 * k), range(k + 1), line[:, j])
                         for j in (0, 1)])
        for line in lines for k in [len(line) - 1]
    ])  # fmt: skip
    for text in [one for one in card.shapes if isinstance(one, Text) and not one.turn_deg]:
        low, high = text.ends_mm.min(axis=0), text.ends_mm.max(axis=0)
        assert not ((dense > low) & (dense < high)).all(axis=1).any(), text.words
