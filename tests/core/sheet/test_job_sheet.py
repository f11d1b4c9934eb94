"""The job sheet: what stands on it, where, and that nothing is lost or cut off."""

from __future__ import annotations

import dataclasses
import itertools
import re

import numpy as np
import pytest
from lxml import html

from blender_addon.core.catalog.sheets import ResinSheet, RubberSheet
from blender_addon.core.cut.result import KnifeDepth, Pull
from blender_addon.core.cut.webs import Web
from blender_addon.core.fields import spec_of
from blender_addon.core.job import job_of, write_job
from blender_addon.core.job_sheet import sheet_blocks, sheet_pages
from blender_addon.core.job_summary import summary
from blender_addon.core.notices import Notice
from blender_addon.core.pictures.views_of import legend_of, seen_from_all_sides
from blender_addon.core.rubber.holding import Holding
from blender_addon.core.rubber.pots import PotFit
from blender_addon.core.settings import from_tables
from blender_addon.core.sheet import cautions
from blender_addon.core.sheet.blocks import Heading, Heed, Numbers, Side, Table, Tick, Words
from blender_addon.core.sheet.brush_figures import brush_figure
from blender_addon.core.sheet.drawing import Text
from blender_addon.core.sheet.fill_plot import LEFT_MM, LOW_MM, fill_plot
from blender_addon.core.sheet.flow import flowed
from blender_addon.core.sheet.html import blocks_html
from blender_addon.core.sheet.page import PAPERS
from blender_addon.core.sheet.pdf import pdf_bytes
from blender_addon.core.sheet.setting import set_block
from tests.core.layouts import layout
from tests.judges.pdf_marks import pages_of

MADE = layout()
SEEN = seen_from_all_sides(MADE.bubbles, MADE.case)
AREAS = legend_of(MADE.bubbles, MADE.case).areas_cm2


def blocks_of(made=MADE, tables=None, **sheet):
    settings = from_tables({"sheet": sheet, **(tables or {})})
    job = job_of(dataclasses.replace(made, settings=settings), "bird.stl")
    return job, sheet_blocks(job, SEEN, AREAS, made.sheet.cut_figures)


def read(**sheet):
    job, blocks = blocks_of(**sheet)
    return pages_of(pdf_bytes(sheet_pages(blocks, job), "Job sheet"))


def words_of(pages):
    return " ".join(" ".join(page.words for page in pages).split())


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_has_the_paper_s_size_its_number_and_the_first_of_all_cautions(paper):
    pages = read(paper=paper)
    assert len(pages) >= 3
    for number, page in enumerate(pages, start=1):
        assert page.size_mm == pytest.approx(PAPERS[paper], abs=1e-3)
        assert f"page {number} of {len(pages)}" in page.words
        assert cautions.ALWAYS in page.words


def test_the_numbers_to_weigh_and_to_measure_are_there():
    words = words_of(read())
    # two cups of 351 g and 35.1 g; case 96.35 mm high, 103.6 mm inside; from the layout by hand
    for fact in (
        "Rubber, part A 702 g", "Rubber, part B 70 g", "Brush 11.5 g 1.2 g 12 ml",
        "Cup 2 351 g 35.1 g 358 ml", "4 min + 5 min + 48 s, of 30 min",
        "vessel of 1.43 l", "Case, inside 103.6 mm", "base 8 N, each seam 4 N, piece 0 N",
        "31.5 mm",
        "Stop at 86.3 mm over the board: 10.0 mm below the rim", "The block weighs 702 g",
        "Coat all round by hand 10 g 9 g", "Fill to 40.0 mm below the rim 19 g 18 g",
    ):  # fmt: skip
        assert fact in words, fact


def test_what_must_hold_is_said_with_its_safety():
    holding = Holding(20.0, 41.0, (12.0, 47.5), -0.4, -0.7, 0.0, 0.6, 0.05)
    tube = dataclasses.replace(MADE, rubber=dataclasses.replace(MADE.rubber, holding=holding))
    words = " ".join(one.words for one in blocks_of(tube)[1] if isinstance(one, Tick))
    assert "each seam with 20 N or more: 2 bands" in words
    assert "12.0 mm, 47.5 mm over the board" in words
    assert "base with 41 N or more" in words
    assert "less than 60 % of a solid one, it floats" in words
    # 4 N by 9.80665 m/s2 are 408 g
    lifted = layout(uplift_n=4.0)
    heavy = dataclasses.replace(lifted, rubber=dataclasses.replace(lifted.rubber, holding=holding))
    ticks = [one.words for one in blocks_of(heavy)[1] if isinstance(one, Tick)]
    assert any("under 408 g, less than 60 %" in one for one in ticks)
    floats = dataclasses.replace(holding, hold_down_n=3.0)
    light = dataclasses.replace(MADE, rubber=dataclasses.replace(MADE.rubber, holding=floats))
    words = " ".join(one.words for one in blocks_of(light)[1] if isinstance(one, Tick))
    assert "Hold the piece down with 3 N or more: it floats" in words


def test_a_lean_that_helps_is_told_by_the_clock_and_pots_by_their_plates():
    fits = (
        PotFit("Blue pot", "pressure", "lying", 275.0, 300.0, 0.6),
        PotFit("Bell", "vacuum", "no", 90.0, 98.0, 3.0),
    )
    rubber = dataclasses.replace(MADE.rubber, pots=fits)
    words = [one.words for one in blocks_of(dataclasses.replace(MADE, rubber=rubber))[1]
             if isinstance(one, Words)]  # fmt: skip
    # 30 degrees from +x, counter-clockwise, with +y at twelve, is two o'clock
    (lean,) = [one for one in words if "o'clock" in one]
    assert "by 20° towards 2 o'clock" in lean
    assert "would trap 0.1 ml instead of 2.0 ml" in lean
    assert "Blue pot: fits lying; go to 275 kPa (40 psi), rated 300 kPa (44 psi)." in words
    assert "Bell: too small for this job." in words


def test_halves_have_a_depth_for_each_side_and_webs_a_row_each():
    depths = (KnifeDepth(10.0, 31.5, "left"), KnifeDepth(10.0, 42.5, "right"),
              KnifeDepth(20.0, 30.0, "left"))  # fmt: skip
    ring = np.array([[0.0, 0.0, 30.0], [10.0, 0.0, 30.0], [0.0, 10.0, 30.0]])
    web = Web(ring, 34.1, 0.5, 7.1, (3.0, 3.0, 30.0), (0.0, 0.0, 1.0), thick=False)
    cut = dataclasses.replace(MADE.cut, kind="two halves", depths=depths, webs=(web,))
    tables = [one for one in blocks_of(dataclasses.replace(MADE, cut=cut))[1]
              if isinstance(one, Table)]  # fmt: skip
    (knife,) = [one for one in tables if "Depth, left" in one.head]
    assert knife.rows == (("10.0 mm", "31.5 mm", "42.5 mm"), ("20.0 mm", "30.0 mm", ""))
    (webs,) = [one for one in tables if one.head[0] == "Web"]
    assert webs.rows == (("1", "0.5 cm²", "7.1 mm", "30.0 mm"),)


def test_a_piece_that_needs_no_brush_has_no_row_for_it():
    made = dataclasses.replace(MADE, rubber=dataclasses.replace(MADE.rubber, coat=None))
    tables = [one for one in blocks_of(made)[1] if isinstance(one, Table)]
    (mix,) = [one for one in tables if one.head[0] == "Mix"]
    assert [row[0] for row in mix.rows] == ["Cup 1", "Cup 2"]


def test_the_last_fill_goes_to_the_rim_and_each_waits_for_the_one_before():
    fill = MADE.resin.fills[0]
    fills = (fill, dataclasses.replace(fill, to_mm_below_rim=0.0))
    made = dataclasses.replace(MADE, resin=dataclasses.replace(MADE.resin, fills=fills))
    _, blocks = blocks_of(made)
    (resin,) = [one for one in blocks if isinstance(one, Table) and one.head[0] == "Resin"]
    assert [row[:2] for row in resin.rows[-2:]] == [
        ("Fill 1", "to 40.0 mm below the rim"),
        ("Fill 2", "to the rim"),
    ]
    waits = [one.words for one in blocks if isinstance(one, Tick) and "gel and cool" in one.words]
    assert len(waits) == 1
    assert "below 40 °C, for the thickest about 37 min" in waits[0]  # 2228 s
    assert not [one for one in blocks_of()[1] if isinstance(one, Tick) and "gel" in one.words]


@pytest.mark.parametrize("word", ["easy", "hard", "do not"])
def test_it_is_told_how_hard_the_block_opens(word):
    pull = Pull(word, 253.0, 0.5, 20.0, least_n=109.0, most_n=253.0)
    made = dataclasses.replace(MADE, cut=dataclasses.replace(MADE.cut, pull=pull))
    (said,) = [one for one in blocks_of(made)[1] if "253 N" in getattr(one, "words", "")]
    assert said.words == f"To open it then: {word}, 109 to 253 N at a lip."


@pytest.mark.parametrize(("kind", "told"), [("stock tube", True), ("printed round", False)])
def test_with_a_tube_parts_need_not_be_printed(kind, told):
    case = dataclasses.replace(MADE.case, kind=kind)
    blocks = blocks_of(dataclasses.replace(MADE, case=case))[1]
    assert any("or printed" in getattr(one, "words", "") for one in blocks) == told


def test_a_warning_tells_its_height_once():
    notices = (
        Notice("web", "A web at 52.8 mm above the board.", (3.0, 4.0, 52.8)),
        Notice("knob", "A knob.", (3.0, 4.0, 10.0)),
    )
    made = dataclasses.replace(MADE, cut=dataclasses.replace(MADE.cut, warnings=notices))
    words = [one.words for one in blocks_of(made)[1] if isinstance(one, Heed) and not one.usual]
    assert words[-2:] == ["A web at 52.8 mm above the board.", "A knob. (10.0 mm over the board)"]


@pytest.mark.parametrize(
    ("kind", "fact"),
    [
        ("one slit", ("Slit, from the base", "30.0 mm")),
        ("two halves", ("Cut, all round the piece", "30.0 mm")),
        ("none", ("Cut", "none found")),
    ],
)
def test_the_large_numbers_name_the_cut_by_its_kind(kind, fact):
    made = dataclasses.replace(MADE, cut=dataclasses.replace(MADE.cut, kind=kind))
    (numbers,) = [one for one in blocks_of(made)[1] if isinstance(one, Numbers)]
    assert fact in numbers.facts


@pytest.mark.parametrize(("kind", "said"), [("printed round", ""), ("printed oval", "widest ")])
def test_a_case_that_is_not_round_is_told_by_its_widest_place(kind, said):
    made = dataclasses.replace(MADE, case=dataclasses.replace(MADE.case, kind=kind))
    job, blocks = blocks_of(made)
    (numbers,) = [one for one in blocks if isinstance(one, Numbers)]
    assert (f"Case, {said}inside", "103.6 mm") in numbers.facts
    assert f", {said}inside 103.6 mm, height" in summary(job)


def test_in_inches_no_length_is_in_millimeters():
    words = words_of(read(units="inches"))
    assert "4.08 in" in words  # 103.6 mm
    assert not re.search(r"\d mm\b", words)


def test_every_warning_stands_below_the_heading_of_its_work():
    heading = {"scan": "2", "bubbles": "3", "case": "2", "rubber": "4", "funnel": "5", "cut": "6",
               "resin": "7", "parts": "1"}  # fmt: skip
    made = MADE
    for stage in heading:
        result = dataclasses.replace(
            getattr(made, stage), warnings=(Notice(stage, f"Heed the {stage}."),)
        )
        made = dataclasses.replace(made, **{stage: result})
    _, blocks = blocks_of(made)
    at, found = "", {}
    for block in blocks:
        if isinstance(block, Heading):
            at = block.words
        elif isinstance(block, Heed) and not block.usual:
            found[block.words] = at[0]
    assert found == {f"Heed the {stage}.": number for stage, number in heading.items()}


@pytest.mark.parametrize(
    ("caution", "heading"),
    [("WAX", "2"), ("SAWING", "2"), ("POLYURETHANE", "7"), ("SILICONE", "4"), ("VACUUM", "4"),
     ("MATERIALS", "4"), ("CUTTING", "6"), ("RESIN", "7"), ("PRESSURE", "7"), ("SANDING", "7")],
)  # fmt: skip
def test_the_usual_cautions_stand_beside_what_they_concern(caution, heading):
    at, found = "", []
    for block in blocks_of()[1]:
        if isinstance(block, Heading):
            at = block.words
        elif isinstance(block, Heed) and block.words == getattr(cautions, caution):
            found.append(at[0])
    assert heading in found


@pytest.mark.parametrize(
    ("stage", "kind", "heading", "told", "others"),
    [
        ("rubber", "silicone", "4", ("SILICONE",), ("POLYURETHANE", "POLYURETHANE_RUBBER")),
        ("rubber", "polyurethane", "4", ("POLYURETHANE", "POLYURETHANE_RUBBER"), ("SILICONE",)),
        ("resin", "slow polyurethane", "7", ("POLYURETHANE",), ("EPOXY", "POLYESTER")),
        ("resin", "epoxy", "7", ("EPOXY",), ("POLYURETHANE", "POLYESTER")),
        ("resin", "polyester", "7", ("POLYESTER",), ("POLYURETHANE", "EPOXY")),
    ],
)
def test_cautions_are_those_of_the_class_that_is_used(stage, kind, heading, told, others):
    at, words = "", []
    for block in blocks_of(tables={stage: {"kind": kind}})[1]:
        if isinstance(block, Heading):
            at = block.words
        elif isinstance(block, Heed) and at.startswith(heading):
            words.append(block.words)
    assert all(getattr(cautions, one) in words for one in told)
    assert not any(getattr(cautions, one) in words for one in others)


def test_every_class_of_rubber_and_resin_has_its_cautions():
    classes = {spec_of(one).choices for sheet in (RubberSheet, ResinSheet)
               for one in dataclasses.fields(sheet) if one.name == "kind"}  # fmt: skip
    assert classes == {tuple(cautions.OF_RUBBER), tuple(cautions.OF_RESIN)}
    assert all((*cautions.OF_RUBBER.values(), *cautions.OF_RESIN.values()))


def test_all_that_is_said_reaches_the_paper_in_its_order():
    _, blocks = blocks_of()
    words = words_of(read())
    place = 0
    for block in blocks:
        if isinstance(block, Heading | Tick | Words | Heed):
            for word in block.words.split():
                place = words.index(word, place) + len(word)


LONG = [Heading("A heading"), *(Tick("word " * 60) for _ in range(30)), Heading("Another heading"),
        Table(("Level", "Poured"), tuple((f"{k} mm", f"{k} ml") for k in range(120)), ticks=True),
        Table(("A rather long head of a column",) * 5, (("some words in a cell " * 2,) * 5,) * 3),
        Heed("heed " * 90), Heed("mind " * 90, usual=True)]  # fmt: skip


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_cut_off_by_the_edge_of_a_page(paper):
    pages = flowed(LONG, paper, "name", "always")
    assert len(pages) > 3
    for page in pages:
        for shape in page.shapes:
            points = shape.ends_mm if isinstance(shape, Text) else extent(shape)
            assert points.min() >= 12.9
            assert (points.max(axis=0) <= np.array(page.size_mm) - 13.9).all()


def extent(shape):
    points = getattr(shape, "points_mm", None)
    return np.vstack(shape.outlines_mm) if points is None else points


def test_no_line_of_a_long_sheet_lies_on_another():
    for page in flowed(LONG, "A4", "name", "always"):
        heights = sorted({round(s.at_mm[1], 3) for s in page.shapes if isinstance(s, Text)})
        assert min(np.diff(heights)) > 2.8


def test_a_heading_or_the_head_of_a_table_is_never_the_last_on_a_page():
    for count in range(30, 44):
        blocks = [*(Words("line") for _ in range(count)), Heading("Late"), Tick("Do it")]
        pages = flowed(blocks, "A4", "name", "always")
        words = [[s.words for s in page.shapes if isinstance(s, Text)] for page in pages]
        (home,) = [page for page in words if "Late" in page]
        assert "Do it" in home


def test_columns_of_a_wide_table_do_not_run_into_each_other():
    rows = (
        ("case back upside down", "a/very/long/name/of/a/file.stl", "162.3 mm x 197.9 mm", "1"),
    )
    for one in set_block(Table(("Part", "File", "Size", "How many pieces of it"), rows), 120.0):
        ends = [s.ends_mm[:2, 0] for s in one.shapes if isinstance(s, Text)]
        assert all(a[1] + 1.0 < b[0] for a, b in itertools.pairwise(ends))


def test_a_table_that_goes_over_a_page_has_its_head_again():
    wide = "Level, told at such length that no other column of it has room beside it"
    pages = flowed([Table((wide, "Poured"), (("1", "2"),) * 60)], "A4", "name", "always")
    words = [[s.words for s in page.shapes if isinstance(s, Text)] for page in pages]
    assert len(pages) == 2
    assert [page.count(wide) for page in words] == [1, 1]
    assert sum(page.count("1") for page in words) == 60


def test_a_narrow_table_goes_on_beside_itself_down_first():
    rows = tuple((f"row {k}", f"{k} mm") for k in range(11))
    pages = flowed([Table(("Level", "Deep"), rows)], "A4", "name", "always")
    (page,) = pages
    texts = [s for s in page.shapes if isinstance(s, Text) and s.words.startswith("row")]
    order = sorted(texts, key=lambda s: (round(s.at_mm[0]), -s.at_mm[1]))
    assert [s.words for s in order] == [row[0] for row in rows]
    lefts = sorted({round(s.at_mm[0]) for s in texts})
    assert len(lefts) == 2
    heads = [s for s in page.shapes if isinstance(s, Text) and s.words == "Level"]
    assert sorted(round(s.at_mm[0]) for s in heads) == lefts
    assert len({round(s.at_mm[1], 3) for s in texts}) == 6


@pytest.mark.parametrize("lines", range(24, 44))
def test_pictures_are_made_smaller_rather_than_leave_half_a_page_bare(lines):
    large = Side(tuple(brush_figure(one) for one in SEEN[:2]))
    pages = flowed([*(Words("line") for _ in range(lines)), large], "A4", "name", "always")
    size = {round(one.drawing.size_mm[1], 6) for page in pages for one in page.placed}
    tall = max(figure.drawing.size_mm[1] for figure in large.figures)
    assert max(size) <= tall + 1e-6
    assert max(size) >= 0.65 * tall - 1e-6
    for page in pages:
        for one in page.placed:
            assert one.at_mm[1] > 14.0 + 9.0  # clear of the foot
    # what is left of the first page is less than the smallest of these pictures needs, with a line
    # more of caption than the large ones have
    (alone,) = set_block(large, 182.0)
    rows = len({s.at_mm[1] for s in alone.shapes if isinstance(s, Text)}) + 1
    fits = 260.0 - lines * (3.6 * 1.4 + 1.6) >= 0.65 * tall + 3.0 + rows * 3.1 * 1.4
    assert len(pages) == (1 if fits else 2)


def test_the_curve_leaves_room_for_its_table_where_it_can():
    table = Table(("Below the rim", "Inside the shell"), tuple((f"{k}", "1") for k in range(9)))
    curve = fill_plot(np.array([[0.0, 0.0], [30.0, 200.0]]))
    for lines in range(10, 30):
        pages = flowed([*(Words("x") for _ in range(lines)), curve, table], "A4", "name", "always")
        (home,) = [k for k, page in enumerate(pages) if page.placed]
        room = 297.0 - 28.0 - 9.0 - lines * (3.6 * 1.4 + 1.6)
        both = 0.65 * 96.0 + 3.0 + 2 * 3.1 * 1.4 + 6 * (3.6 * 1.4 + 1.0) + 2.5
        assert (len(pages) == 1) == (room >= both), lines
        assert pages[home].placed[0].drawing.size_mm[1] >= 0.65 * 96.0 - 1e-6


def test_captions_of_figures_side_by_side_do_not_run_into_each_other():
    (one,) = set_block(Side(tuple(brush_figure(each, 57.0) for each in SEEN[2:])), 180.0)
    rows = {}
    for text in (s for s in one.shapes if isinstance(s, Text)):
        rows.setdefault(text.at_mm[1], []).append(text.ends_mm[:2, 0])
    for ends in rows.values():
        assert all(a[1] < b[0] for a, b in itertools.pairwise(sorted(ends, key=lambda e: e[0])))


def test_a_short_table_is_never_torn_and_a_long_one_leaves_no_row_alone():
    for lines, count in ((k, n) for k in range(24, 40) for n in (3, 9, 30)):
        rows = tuple((f"row {k}",) for k in range(count))
        blocks = [*(Words("line") for _ in range(lines)), Table(("Level",), rows)]
        pages = flowed(blocks, "A4", "name", "always")
        found = [sum(s.words.startswith("row") for s in page.shapes if isinstance(s, Text))
                 for page in pages]  # fmt: skip
        torn = [n for n in found if n]
        assert sum(torn) == count
        assert min(torn) > 1
        assert len(torn) == 1 or count > 9


def test_a_word_longer_than_the_line_is_no_endless_task():
    (one,) = set_block(Tick("x" * 300), 100.0)
    assert len([s for s in one.shapes if isinstance(s, Text)]) == 1


def test_the_curve_of_the_fill_is_the_table():
    table = np.array([[0.0, 0.0], [30.0, 200.0], [60.0, 530.0]])
    figure = fill_plot(table)
    (curve,) = [s.points_mm for s in figure.drawing.shapes
                if getattr(s, "kind", "") == "cut"]  # fmt: skip
    numbers = {s.words: s.at_mm for s in figure.drawing.shapes if isinstance(s, Text)}
    # by the numbers on the axes: 60 mm and 500 ml are written where the curve must pass
    at_60, at_500 = numbers["60"][0], numbers["500"][1] + 1.0
    assert curve[0] == pytest.approx((LEFT_MM, LOW_MM))
    assert curve[2, 0] == pytest.approx(at_60)
    assert (curve[2, 1] - LOW_MM) / (at_500 - LOW_MM) == pytest.approx(530 / 500)
    assert (curve[1, 0] - LEFT_MM) / (at_60 - LEFT_MM) == pytest.approx(30 / 60)


def test_the_page_for_a_screen_says_the_same_and_can_be_ticked():
    _, blocks = blocks_of()
    root = html.fromstring(blocks_html(blocks, "Job sheet <bird>"))
    assert root.findtext(".//title") == "Job sheet <bird>"
    words = " ".join(root.text_content().split())
    ticks = sum(isinstance(one, Tick) for one in blocks)
    ticks += sum(len(one.rows) for one in blocks if isinstance(one, Table) and one.ticks)
    assert len(root.findall(".//input")) == ticks > 10
    assert all(one.words in words for one in blocks if isinstance(one, Tick | Heed | Words))
    pictures = len(SEEN) + len(MADE.sheet.cut_figures)
    assert len([one for one in root.iter() if str(one.tag).endswith("image")]) == pictures == 7
    assert cautions.ALWAYS in words


@pytest.mark.parametrize("paper", PAPERS)
def test_the_folder_holds_the_sheets_of_the_paper_in_the_printer(tmp_path, paper):
    settings = from_tables({"sheet": {"paper": paper}})
    made = dataclasses.replace(MADE, settings=settings)
    job = write_job(made, "bird.stl", tmp_path / "job")
    sheet = job["sheet"]
    assert sheet["job_sheet"] == f"sheet/job_sheet_{paper.lower()}.pdf"
    named = {sheet["job_sheet"], sheet["job_sheet_html"], sheet["templates"],
             *(one["file"] for one in sheet["drawings"])}  # fmt: skip
    assert named <= set(job["files"])
    templates = pages_of((tmp_path / "job" / sheet["templates"]).read_bytes())
    assert len(templates) == sheet["templates_pages"] == len(made.sheet.pages)
