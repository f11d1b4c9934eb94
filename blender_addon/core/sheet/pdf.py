"""Pages as PDF 1.7 (ISO 32000-1) at true scale: a unit of a page's content is a millimetre."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING

import numpy as np
import pydyf

from ..constants.common import MM_PER_INCH
from .drawing import BLACK, PENS, Circle, Line, Picture, Polygon, Text

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from ..arrays import Floats
    from .drawing import Color, Shape
    from .page import Page, Placed

POINTS_PER_MM = 72.0 / MM_PER_INCH
"""ISO 32000-1, 8.3.2.3: the unit of a page is 1/72 inch."""

ARCS = 8
"""Curves that a circle is drawn by: they stray from it by 4 millionths of the radius."""

FONTS = {"R": "Helvetica", "B": "Helvetica-Bold"}


def pdf_bytes(pages: Sequence[Page], title: str) -> bytes:
    """Return pages as the bytes of a PDF file.

    Parameters
    ----------
    pages : sequence of Page
        At least one.
    title : str
        Of the whole file.

    Returns
    -------
    bytes
        The same for the same pages.
    """
    pdf = pydyf.PDF()
    pdf.info["Title"] = _literal(title)
    fonts = pydyf.Dictionary({key: _font(pdf, name) for key, name in FONTS.items()})
    for page in pages:
        ink = _Ink(pdf)
        ink.draw(page.shapes)
        for placed in page.placed:
            ink.draw_placed(placed)
        pdf.add_object(ink.stream)
        width, height = (round(one * POINTS_PER_MM, 6) for one in page.size_mm)
        pdf.add_page(
            pydyf.Dictionary(
                {
                    "Type": "/Page",
                    "Parent": pdf.pages.reference,
                    "MediaBox": pydyf.Array([0, 0, width, height]),
                    "Resources": pydyf.Dictionary({"Font": fonts, "XObject": ink.images}),
                    "Contents": ink.stream.reference,
                }
            )
        )
    pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"PrintScaling": "/None"})
    out = io.BytesIO()
    pdf.write(out)
    return out.getvalue()


def _font(pdf: pydyf.PDF, name: str) -> bytes:
    font = pydyf.Dictionary(
        {
            "Type": "/Font",
            "Subtype": "/Type1",
            "BaseFont": f"/{name}",
            "Encoding": "/WinAnsiEncoding",
        }
    )
    pdf.add_object(font)
    reference: bytes = font.reference
    return reference


def _literal(words: str) -> bytes:
    """Return words as a PDF string of Windows' Latin letters; others become question marks."""
    raw = words.encode("cp1252", "replace")
    for sign in (b"\\", b"(", b")"):
        raw = raw.replace(sign, b"\\" + sign)
    return b"(" + raw + b")"


class _Ink:
    """What is drawn on a page: its content, in mm, and the images that it names."""

    def __init__(self, pdf: pydyf.PDF) -> None:
        self._pdf = pdf
        self.images = pydyf.Dictionary()
        self.stream = pydyf.Stream(compress=True)
        self.stream.set_matrix(POINTS_PER_MM, 0, 0, POINTS_PER_MM, 0, 0)

    def draw(self, shapes: Iterable[Shape]) -> None:
        for shape in shapes:
            self._draw_one(shape)

    def draw_placed(self, placed: Placed) -> None:
        """Draw a window of a drawing, cut off at its edges."""
        (low_x, low_y), (high_x, high_y) = placed.low_mm, placed.high_mm
        at_x, at_y = placed.at_mm
        self.stream.push_state()
        self.stream.set_matrix(1, 0, 0, 1, at_x - low_x, at_y - low_y)
        self.stream.rectangle(low_x, low_y, high_x - low_x, high_y - low_y)
        self.stream.clip()
        self.stream.end()
        self.draw(placed.drawing.shapes)
        self.stream.pop_state()

    def _draw_one(self, shape: Shape) -> None:
        if isinstance(shape, Text):
            self._text(shape)
        elif isinstance(shape, Picture):
            self._picture(shape)
        elif isinstance(shape, Polygon):
            self._fill_with(shape.color)
            for outline in shape.outlines_mm:
                self._path(outline, closed=True)
            self.stream.fill(even_odd=True)
        elif isinstance(shape, Line):
            self._take(shape.kind)
            self._path(shape.points_mm, closed=shape.closed)
            self.stream.stroke()
        else:
            self._circle(shape)

    def _take(self, kind: str) -> None:
        pen = PENS[kind]
        self.stream.set_line_width(pen.width_mm)
        self.stream.set_dash(pen.dash_mm, 0)
        self.stream.set_color_rgb(*pen.color, stroke=True)

    def _fill_with(self, color: Color) -> None:
        self.stream.set_color_rgb(*color)

    def _path(self, points: Floats, *, closed: bool) -> None:
        self.stream.move_to(*points[0].tolist())
        for point in points[1:].tolist():
            self.stream.line_to(*point)
        if closed:
            self.stream.close()

    def _circle(self, circle: Circle) -> None:
        self._take(circle.kind)
        angle = 2.0 * math.pi / ARCS * np.arange(ARCS + 1)
        out = np.column_stack([np.cos(angle), np.sin(angle)])
        along = np.column_stack([-out[:, 1], out[:, 0]]) * 4.0 / 3.0 * math.tan(math.pi / 2 / ARCS)
        at, before, after = (
            (np.asarray(circle.at_mm) + circle.radius_mm * one).tolist()
            for one in (out, out - along, out + along)
        )
        self.stream.move_to(*at[0])
        for k in range(ARCS):
            self.stream.curve_to(*after[k], *before[k + 1], *at[k + 1])
        self.stream.close()
        if circle.color is None:
            self.stream.stroke()
        else:
            self._fill_with(circle.color)
            self.stream.fill_and_stroke()

    def _text(self, text: Text) -> None:
        turn = math.radians(text.turn_deg)
        start_x, start_y = text.ends_mm[0].tolist()
        self._fill_with(BLACK)
        self.stream.begin_text()
        self.stream.set_font_size("B" if text.bold else "R", text.size_mm)
        c, s = math.cos(turn), math.sin(turn)
        self.stream.set_text_matrix(c, s, -s, c, start_x, start_y)
        self.stream.stream.append(_literal(text.words) + b" Tj")
        self.stream.end_text()

    def _picture(self, picture: Picture) -> None:
        height, width, _ = picture.pixels.shape
        image = pydyf.Stream(
            [picture.pixels.tobytes()],
            {
                "Type": "/XObject",
                "Subtype": "/Image",
                "Width": width,
                "Height": height,
                "ColorSpace": "/DeviceRGB",
                "BitsPerComponent": 8,
            },
            compress=True,
        )
        self._pdf.add_object(image)
        name = f"P{image.number}"
        self.images[name] = image.reference
        self.stream.push_state()
        self.stream.set_matrix(picture.size_mm[0], 0, 0, picture.size_mm[1], *picture.at_mm)
        self.stream.draw_x_object(name)
        self.stream.pop_state()
