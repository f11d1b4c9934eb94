"""Blocks of a job sheet as shapes: each with its height, drawn from its upper left corner down."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from .blocks import Figure, Heading, Heed, Numbers, Side, Table, Tick, Title, Words
from .drawing import Line, Polygon, Text
from .letters import lines_of, width_mm
from .page import Placed
from .pieces import BAND, LEAD, SIZE_MM, Set, box_below
from .shapes import scaled
from .table import set_table

if TYPE_CHECKING:
    from .blocks import Block
    from .drawing import Shape

CAPTION_MM = 3.1

GRAVE = (1.0, 0.87, 0.55)
"""Behind warnings."""


def set_block(block: Block, wide_mm: float) -> list[Set]:
    """Return a block as pieces that a page may end between.

    Parameters
    ----------
    block : Block
    wide_mm : float
        Width of the text.
    """
    if isinstance(block, Table):
        return set_table(block, wide_mm)
    return [_set_one(block, wide_mm)]


def _set_one(block: Block, wide_mm: float) -> Set:
    match block:
        case Side():
            return _side(block)
        case Figure():
            return _side(Side((block,)))
        case Numbers():
            return _numbers(block, wide_mm)
        case Title():
            return _title(block)
        case Heading():
            return _heading(block, wide_mm)
        case Words() | Tick() | Heed():
            return _paragraph(block, wide_mm)
    raise TypeError(f"{type(block).__name__} is no block")


def _heading(heading: Heading, wide: float) -> Set:
    box = Polygon((box_below(0.0, -3.0, wide, 7.5),), BAND)
    words = Text((2.0, -8.6), heading.words, 5.0, bold=True)
    return Set(13.0, (box, words), keeps_next=True)


def _title(title: Title) -> Set:
    return Set(
        16.0,
        (Text((0.0, -6.5), title.words, 8.0, bold=True), Text((0.0, -12.0), title.under, 3.6)),
    )


def _numbers(numbers: Numbers, wide: float) -> Set:
    """Return large numbers, three in a row."""
    shapes: list[Shape] = []
    step, high = wide / 3.0, 16.0
    for k, (what, much) in enumerate(numbers.facts):
        x, y = (k % 3) * step, -(k // 3) * high
        size = min(6.5, 6.5 * (step - 6.0) / width_mm(much, 6.5, bold=True))
        shapes += [
            Line(box_below(x, y - 1.0, step - 2.0, high - 2.0), "thin", closed=True),
            Text((x + 2.0, y - 5.0), what, 3.2),
            Text((x + 2.0, y - 12.2), much, size, bold=True),
        ]
    rows = (len(numbers.facts) + 2) // 3
    return Set(rows * high + 2.0, tuple(shapes))


def _paragraph(block: Words | Tick | Heed, wide: float) -> Set:
    left = 0.0
    shapes: list[Shape] = []
    if isinstance(block, Tick):
        left = 7.0
        shapes.append(Line(box_below(0.5, -1.2, 4.2, 4.2), "thin", closed=True))
    if isinstance(block, Heed):
        left = 4.0
    small = isinstance(block, Heed) and block.usual
    size = 3.1 if small else SIZE_MM
    bold = isinstance(block, Heed) and not block.usual
    words = f"Warning: {block.words}" if bold else block.words
    lines = lines_of(words, size, wide - left - (2.0 if isinstance(block, Heed) else 0.0))
    high = len(lines) * size * LEAD + 1.6
    if bold:
        shapes.append(Polygon((box_below(0.0, -0.4, wide, high - 0.2),), GRAVE))
    elif small:
        shapes.append(Line(np.array([[1.5, -0.6], [1.5, -high + 0.8]]), "heavy"))
    for row, line in enumerate(lines):
        shapes.append(Text((left, -1.0 - size - row * size * LEAD), line, size))
    return Set(high + (1.2 if isinstance(block, Heed) else 0.0), tuple(shapes))


def _side(side: Side) -> Set:
    """Return figures side by side, their captions below."""
    shapes: list[Shape] = []
    placed, x, rows = [], 0.0, 1
    high = max(one.drawing.size_mm[1] for one in side.figures)
    for figure in side.figures:
        one = figure.drawing
        placed.append(Placed(one, one.low_mm, one.high_mm, (x, -one.size_mm[1])))
        lines = lines_of(figure.caption, CAPTION_MM, one.size_mm[0])
        rows = max(rows, len(lines))
        shapes += [
            Text((x, -high - 4.0 - row * CAPTION_MM * LEAD), line, CAPTION_MM)
            for row, line in enumerate(lines)
        ]
        x += one.size_mm[0] + 4.0
    words = 3.0 + rows * CAPTION_MM * LEAD
    least = max(figure.least for figure in side.figures)
    found = Set(high + words, tuple(shapes), tuple(placed))
    if least >= 1.0:
        return found
    spare = CAPTION_MM * LEAD  # a caption may take a line more below a smaller picture

    def smaller(room_mm: float) -> Set:
        by = (room_mm - words - spare) / high
        figures = (replace(f, drawing=scaled(f.drawing, by), least=1.0) for f in side.figures)
        return _side(Side(tuple(figures)))

    return replace(
        found, least_mm=least * high + words + spare, smaller=smaller,
        wants_next=any(figure.wants_next for figure in side.figures),
    )  # fmt: skip
