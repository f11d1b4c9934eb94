"""Drawings as PDF and SVG, judged by readers that are not ours."""

from __future__ import annotations

import numpy as np
import pytest
from lxml import etree
from pypdf._codecs.core_font_metrics import CORE_FONT_METRICS

from blender_addon.core.sheet.drawing import Circle, Line, Picture, Polygon, Text, drawing_of
from blender_addon.core.sheet.letters import lines_of, width_mm
from blender_addon.core.sheet.page import Page
from blender_addon.core.sheet.pdf import pdf_bytes
from blender_addon.core.sheet.svg import drawing_svg
from tests.judges.pdf_marks import pages_of

SQUARE = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [0.0, 20.0]])
HOLE = SQUARE / 2.0 + 5.0


def page_of(*shapes):
    (page,) = pages_of(pdf_bytes([Page((210.0, 297.0), shapes)], "Test"))
    return page


def test_a_line_lies_in_the_pdf_where_it_was_drawn():
    line = page_of(Line(SQUARE, "fold", closed=True)).strokes[0]
    assert np.allclose(line.points_mm, [*SQUARE, SQUARE[0]], atol=1e-5)
    assert line.width_mm == pytest.approx(0.3, abs=1e-6)
    assert line.dashed


def test_a_page_of_the_pdf_has_the_size_of_its_paper():
    # ISO 216: A4 is 210 x 297 mm
    assert np.allclose(page_of(Line(SQUARE)).size_mm, (210.0, 297.0), atol=1e-6)


def test_a_circle_is_round_in_the_pdf():
    arc = page_of(Circle((50.0, 60.0), 40.0)).strokes[0]
    assert np.allclose(np.hypot(*(arc.points_mm - (50.0, 60.0)).T), 40.0, atol=1e-5)


def test_words_are_read_back_with_their_accents_and_brackets():
    words = "Größe (außen) 20 °C \\ 3 \xd7 4"
    assert page_of(Text((20.0, 20.0), words)).words == words


def test_letters_that_the_font_lacks_do_not_break_the_file():
    assert page_of(Text((20.0, 20.0), "鉢 pot")).words == "? pot"


def test_pixels_come_back_as_they_were():
    pixels = np.arange(24, dtype=np.uint8).reshape(2, 4, 3)
    assert page_of(Picture((10.0, 10.0), (40.0, 20.0), pixels)).images == 1


def test_the_same_pages_give_the_same_bytes():
    pages = [Page((210.0, 297.0), (Line(SQUARE),))]
    assert pdf_bytes(pages, "Test") == pdf_bytes(pages, "Test")


@pytest.mark.parametrize("font", ["Helvetica", "Helvetica-Bold"])
def test_letters_are_as_wide_as_adobe_says(font):
    known = CORE_FONT_METRICS[font].character_widths
    for letter in [chr(code) for code in range(32, 127) if code != 39] + list("°\xd7²³·±½äöéñç"):
        mine = width_mm(letter, 1000.0, bold=font.endswith("Bold"))
        assert mine == pytest.approx(known[letter]), letter


def test_wrapped_lines_keep_all_words_and_fit():
    words = "Pour in one thin stream down the channel at the back and stop at the line"
    lines = lines_of(words, 4.0, 40.0)
    assert " ".join(lines) == words
    assert max(width_mm(line, 4.0) for line in lines) <= 40.0
    assert len(lines) > 2


def test_an_svg_has_its_true_size_and_turns_y_down():
    drawing = drawing_of("square", "Square & Co", [Line(SQUARE, "cut", closed=True)], edge_mm=1.0)
    root = etree.fromstring(drawing_svg(drawing).encode())
    assert (root.get("width"), root.get("height")) == ("32.0000mm", "22.0000mm")
    assert [float(one) for one in root.get("viewBox").split()] == [-1.0, -21.0, 32.0, 22.0]
    (path,) = root.iter("{*}path")
    assert path.get("d").startswith("M0.0000 -0.0000L30.0000 -0.0000L30.0000 -20.0000")
    assert root.findtext("{*}title") == "Square & Co"


def test_a_filled_area_keeps_its_hole():
    page = page_of(Polygon((SQUARE, HOLE), (1.0, 0.0, 0.0)))
    assert [one.filled for one in page.strokes] == [True, True]
    root = etree.fromstring(
        drawing_svg(drawing_of("a", "A", [Polygon((SQUARE, HOLE), (1.0, 0.0, 0.0))])).encode()
    )
    (path,) = root.iter("{*}path")
    assert path.get("fill-rule") == "evenodd"
    assert path.get("d").count("M") == 2
