"""Sheets that are joined: each point once, marks that meet, check lines of 100 mm."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.sheet.drawing import Circle, Line, Text, drawing_of
from blender_addon.core.sheet.packing import pages_of as pages_of_all
from blender_addon.core.sheet.page import PAPERS
from blender_addon.core.sheet.pdf import pdf_bytes
from blender_addon.core.sheet.tiles import tiled, tiling_of
from tests.judges.pdf_marks import pages_of

RIM = np.array([[0.0, 0.0], [500.0, 0.0], [500.0, 400.0], [0.0, 400.0]])
DRAWINGS = {
    "small": drawing_of("disc", "Disc", [Circle((0.0, 0.0), 60.0)]),
    "wide": drawing_of("band", "Band", [Line(RIM * [1.0, 0.3], "cut", closed=True)]),
    "large": drawing_of("board", "Board", [Line(RIM, "cut", closed=True)]),
}


@pytest.fixture(params=[(name, paper) for name in DRAWINGS for paper in PAPERS])
def tiles(request):
    name, paper = request.param
    drawing = DRAWINGS[name]
    pages = tiled(drawing, paper)
    return drawing, paper, pages, pages_of(pdf_bytes(pages, drawing.title))


def is_near(points, wanted):
    return len(points) == len(wanted) and np.allclose(points, wanted, atol=1e-4)


def test_both_check_lines_are_100_mm_in_the_pdf(tiles):
    # physics: ISO 32000-1, 8.3.2: 100 mm are 283.465 points
    for page in tiles[3]:
        runs = [one.points_mm[-1] - one.points_mm[0] for one in page.strokes if not one.clip_mm]
        for wanted in ([100.0, 0.0], [0.0, 100.0]):
            assert sum(np.allclose(run, wanted, atol=1e-4) for run in runs) == 1


def test_nothing_stands_closer_to_the_paper_s_edge_than_a_printer_reaches(tiles):
    for page in tiles[3]:
        for stroke in page.strokes:
            low, high = stroke.clip_mm or (
                stroke.points_mm.min(axis=0), stroke.points_mm.max(axis=0)
            )  # fmt: skip
            assert (low >= 10.0 - 1e-3).all()
            assert (high <= page.size_mm - 10.0 + 1e-3).all()


def test_sheets_joined_cover_the_drawing_exactly_once(tiles):
    drawing, _, pages, read = tiles
    windows = []
    for page, seen in zip(pages, read, strict=True):
        low, high = next(one.clip_mm for one in seen.strokes if one.clip_mm)
        shift = np.array(page.placed[0].low_mm) - low
        windows.append((low + shift, high + shift))
    area = sum(np.prod(high - low) for low, high in windows)
    assert area == pytest.approx(np.prod(drawing.size_mm), rel=1e-6)
    for k, (low, high) in enumerate(windows):
        assert (low >= np.array(drawing.low_mm) - 1e-4).all()
        assert (high <= np.array(drawing.high_mm) + 1e-4).all()
        for other_low, other_high in windows[:k]:
            shared = np.minimum(high, other_high) - np.maximum(low, other_low)
            assert min(shared) < 1e-3


def test_what_is_drawn_lies_at_one_place_on_all_sheets_when_joined(tiles):
    drawing, _, pages, read = tiles
    wanted = getattr(drawing.shapes[0], "points_mm", None)
    for page, seen in zip(pages, read, strict=True):
        (stroke,) = [one for one in seen.strokes if one.clip_mm]
        shift = np.array(page.placed[0].low_mm) - stroke.clip_mm[0]
        points = stroke.points_mm + shift
        if wanted is not None:
            assert is_near(points, [*wanted, wanted[0]])
        else:
            assert np.allclose(np.hypot(*points.T), 60.0, atol=1e-4)


def test_half_marks_of_neighbours_meet_in_diamonds(tiles):
    _, _, pages, read = tiles
    halves = []
    for page, seen in zip(pages, read, strict=True):
        clip = next(one.clip_mm for one in seen.strokes if one.clip_mm)
        shift = np.array(page.placed[0].low_mm) - clip[0]
        found = [one.points_mm + shift for one in seen.strokes if len(one.points_mm) == 3]
        halves += found
    ends = sorted(tuple(np.sort(half[[0, 2]].round(3), axis=0).ravel()) for half in halves)
    assert ends[::2] == ends[1::2]
    assert len(set(ends)) == len(ends) // 2
    tiling = tiling_of(tiles[0].size_mm, tiles[1])
    joints = tiling.rows * (tiling.columns - 1) + tiling.columns * (tiling.rows - 1)
    assert len(halves) == 2 * joints


def test_both_halves_of_a_mark_bear_one_letter_and_no_two_marks_the_same(tiles):
    _, _, pages, _ = tiles
    named = {}
    for page in pages:
        (placed,) = page.placed
        shift = np.array(placed.low_mm) - placed.at_mm
        halves = [s for s in page.shapes if isinstance(s, Line) and len(s.points_mm) == 3]
        letters = [s for s in page.shapes if isinstance(s, Text) and s.anchor == "middle"]
        assert len(letters) == len(halves)
        for half, letter in zip(halves, letters, strict=True):
            joint = (half.points_mm[[0, 2]].mean(axis=0) + shift).round(3)
            named.setdefault(tuple(joint.tolist()), []).append(letter.words)
    assert all(len(words) == 2 and words[0] == words[1] for words in named.values())
    assert len({words[0] for words in named.values()}) == len(named)


@pytest.mark.parametrize("paper", PAPERS)
def test_no_joint_cuts_a_word_and_no_mark_covers_one(paper):
    spots = np.random.default_rng(7).uniform([20.0, 20.0], [480.0, 380.0], (200, 2))
    words = [
        Text((float(x), float(y)), "BACK here", 5.0, anchor, turn)
        for (x, y), anchor, turn in zip(
            spots, ["start", "middle", "end", "middle"] * 50, [0.0, 90.0] * 100, strict=True
        )
    ]
    drawing = drawing_of("board", "Board", [Line(RIM, "cut", closed=True), *words])
    tiling = tiling_of(drawing.size_mm, paper)
    pages = tiled(drawing, paper)
    moved = [one for one in pages[0].placed[0].drawing.shapes if isinstance(one, Text)]
    cut = 0
    for before, after in zip(words, moved, strict=True):
        for text, hits in ((before, 0), (after, 1)):
            low, high = text.ends_mm.min(axis=0), text.ends_mm.max(axis=0)
            crossed = [
                np.floor((low[k] - drawing.low_mm[k]) / tiling.cell_mm[k])
                != np.floor((high[k] - drawing.low_mm[k]) / tiling.cell_mm[k])
                for k in (0, 1)
            ]
            cut += any(crossed) and not hits
            assert not (hits and any(crossed))
        assert np.abs(np.subtract(before.at_mm, after.at_mm)).max() < 40.0
    assert cut > 10  # the joints do meet words before


def test_many_small_drawings_lie_side_by_side_on_one_sheet():
    small = [drawing_of(f"disc {k}", "Disc", [Circle((0.0, 0.0), 8.0 + k)]) for k in range(12)]
    (page,) = pages_of_all(small, "A4")
    boxes = [(np.array(p.at_mm), np.array(p.at_mm) + p.drawing.size_mm) for p in page.placed]
    assert len(boxes) == 12
    for k, (low, high) in enumerate(boxes):
        for other_low, other_high in boxes[:k]:
            assert min(np.minimum(high, other_high) - np.maximum(low, other_low)) <= 1e-9


def test_sheets_say_their_row_and_place(tiles):
    read = tiles[3]
    if len(read) == 1:
        assert "1 sheet" in read[0].words
    else:
        assert "Row 1, sheet 2" in read[1].words
        assert f"{len(read)} of {len(read)}" in read[-1].words


@pytest.mark.parametrize("paper", PAPERS)
def test_a_drawing_gets_no_more_sheets_than_it_needs(paper):
    assert tiling_of((60.0, 60.0), paper).sheets == 1
    # 240 mm lie along a sheet, not across it: common sizes 210 x 297 and 216 x 279 mm
    assert tiling_of((240.0, 150.0), paper).sheets == 1
