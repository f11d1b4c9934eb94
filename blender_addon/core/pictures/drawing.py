"""A picture as SVG 1.1: the raster inside, marks and labels over it, legend and scale below."""

from __future__ import annotations

from base64 import b64encode
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.pictures import LABEL_PIXELS, SCALE_BARS_MM
from .classes import CLASS_COLORS
from .marks import label_rows
from .png import png_bytes
from .raster import srgb_bytes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .marks import Mark, Question, Spot
    from .raster import Raster

EDGE, TITLE, LABELS = 16.0, 40.0, 230.0
"""Pixels: white all round, height of the title, width of the column of labels."""


@dataclass(frozen=True)
class Legend:
    """Lines of the legend: area in cm2 of each class shown, and a line on the whole."""

    areas_cm2: dict[str, float]
    whole: str


def drawing(
    title: str,
    raster: Raster,
    marks: Sequence[Mark],
    legend: Legend,
    question: Question | None = None,
) -> str:
    """Return a picture as the text of an SVG file."""
    tall, wide = raster.depth_mm.shape
    asked = [] if question is None else [question.at[1]]
    rows = label_rows([*(mark.ceiling[1] for mark in marks), *asked])
    below = max([float(tall), *(row + LABEL_PIXELS for row in rows)]) + EDGE
    parts = [
        _text((EDGE, 28.0), title, "bold 17px"),
        f'<g transform="translate({EDGE:g} {TITLE:g})">',
        _image(raster),
        *(
            _mark(mark, (wide + EDGE, row))
            for mark, row in sorted(zip(marks, rows, strict=False), key=lambda one: -one[0].number)
        ),
        *([] if question is None else [_question(question, (wide + EDGE, rows[-1]))]),
        _bar(raster, below),
        *_legend(legend, below + 2.5 * LABEL_PIXELS, marked=bool(marks)),
        "</g>",
    ]
    width = max(wide + LABELS, 560.0) + 2.0 * EDGE
    lines = len(legend.areas_cm2) + 1 + 2 * bool(marks)
    height = TITLE + below + (lines + 3.0) * LABEL_PIXELS
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'version="1.1" width="{width:g}" height="{height:g}" viewBox="0 0 {width:g} {height:g}" '
        'font-family="DejaVu Sans, Verdana, Arial, sans-serif">'
    )
    paper = '<rect width="100%" height="100%" fill="#ffffff"/>'
    declaration = '<?xml version="1.0" encoding="UTF-8"?>'
    return "\n".join([declaration, head, paper, *parts, "</svg>\n"])


def _image(raster: Raster) -> str:
    tall, wide = raster.depth_mm.shape
    data = b64encode(png_bytes(raster.pixels)).decode("ascii")
    return f'<image width="{wide}" height="{tall}" xlink:href="data:image/png;base64,{data}"/>'


def _mark(mark: Mark, label: Spot) -> str:
    """Return a ring at the ceiling, a triangle at the saddle, the number, and a line to its text.

    What the piece hides is dashed.
    """
    (x, y), (label_x, label_y) = mark.ceiling, label
    leader = f"M{x:.1f} {y:.1f}L{label_x - 12:.1f} {label_y:.1f}H{label_x - 4:.1f}"
    found = [f'<path d="{leader}" fill="none" stroke="#777777" stroke-width="0.8"/>']
    if mark.saddle is not None:
        sx, sy = mark.saddle
        way = f'd="M{x:.1f} {y:.1f}L{sx:.1f} {sy:.1f}" stroke-dasharray="2 2"'
        found += [
            f'<path {way} fill="none" stroke="#111111"/>',
            f'<path d="M{sx - 6:.1f} {sy - 5:.1f}h12l-6 10z" {_pen(hidden=mark.saddle_hidden)}/>',
        ]
    found += [
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="8.5" {_pen(hidden=mark.ceiling_hidden)}/>',
        _text((x, y + 4.0), str(mark.number), "bold 11px", 'text-anchor="middle"'),
        _text((label_x, label_y + 4.5), f"{mark.number}: {mark.text}", "13px"),
    ]
    return "\n".join(found)


def _question(question: Question, label: Spot) -> str:
    """Return a square with a question mark, and a line to its text."""
    (x, y), (label_x, label_y) = question.at, label
    leader = f"M{x:.1f} {y:.1f}L{label_x - 12:.1f} {label_y:.1f}H{label_x - 4:.1f}"
    square = f'x="{x - 8:.1f}" y="{y - 8:.1f}" width="16" height="16"'
    return "\n".join([
        f'<path d="{leader}" fill="none" stroke="#777777" stroke-width="0.8"/>',
        f'<rect class="question" {square} {_pen(hidden=question.hidden)}/>',
        _text((x, y + 4.0), "?", "bold 11px", 'text-anchor="middle"'),
        _text((label_x, label_y + 4.5), f"?: {question.text}", "13px"),
    ])  # fmt: skip


def _pen(*, hidden: bool) -> str:
    line = 'stroke-dasharray="3 2" fill-opacity="0.75"' if hidden else 'fill-opacity="1"'
    return f'fill="#ffffff" stroke="#111111" stroke-width="1.5" {line}'


def _bar(raster: Raster, top: float) -> str:
    """Return the bar that gives the scale."""
    tall, wide = raster.depth_mm.shape
    across_mm = max(tall, wide) * raster.pixel_mm
    length_mm = next((one for one in SCALE_BARS_MM if one <= across_mm), SCALE_BARS_MM[-1])
    end = length_mm / raster.pixel_mm
    y = top + 6.0
    return (
        f'<path class="scale" d="M0 {y - 5:.2f}v10M0 {y:.2f}H{end:.4f}M{end:.4f} {y - 5:.2f}v10" '
        'fill="none" stroke="#111111" stroke-width="2"/>\n'
        + _text((end + 8.0, y + 4.5), f"{length_mm} mm", "13px")
    )


def _legend(legend: Legend, top: float, *, marked: bool) -> list[str]:
    found = []
    for row, (kind, area_cm2) in enumerate(legend.areas_cm2.items()):
        y = top + row * LABEL_PIXELS
        color = "".join(f"{one:02x}" for one in srgb_bytes(np.array(CLASS_COLORS[kind])).tolist())
        found += [
            f'<rect y="{y - 10:.1f}" width="22" height="12" fill="#{color}" stroke="#111111"/>',
            _text((30.0, y), f"{kind}, {area_cm2:.1f} cm²", "13px"),
        ]
    lines = [legend.whole]
    if marked:
        lines += [
            "Ring: where the air of a pocket stands highest. Triangle: where its way out closes.",
            "Dashed: hidden by the piece.",
        ]
    y = top + len(legend.areas_cm2) * LABEL_PIXELS
    return [
        *found,
        *(_text((0.0, y + k * LABEL_PIXELS), one, "13px") for k, one in enumerate(lines)),
    ]


def _text(at: Spot, words: str, font: str, more: str = "") -> str:
    weight, _, size = font.rpartition(" ")
    bold = f' font-weight="{weight}"' if weight else ""
    more = f" {more}" if more else ""
    return f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{size}"{bold}{more}>{words}</text>'
