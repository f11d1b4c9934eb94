"""Blocks of a job sheet as shapes: each with its height, drawn from its upper left corner down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .blocks import Figure, Heading, Heed, Numbers, Side, Table, Tick, Title, Words
from .drawing import Line, Polygon, Text, rectangle
from .letters import lines_of, width_mm
from .page import Placed

if TYPE_CHECKING:
    from ..arrays import Floats
    from .blocks import Block
    from .drawing import Shape

SIZE_MM, LEAD = 3.6, 1.4
"""Letters of the text, and the distance of lines by their size."""

BAND, GRAVE = (0.9, 0.9, 0.9), (1.0, 0.87, 0.55)
"""Behind heads of tables and headings; behind warnings."""


@dataclass(frozen=True, eq=False)
class Set:
    """A block as it lies on the page; the origin is its upper left corner, y goes up.

    ``keeps_next`` holds it on the page of what follows.
    """

    height_mm: float
    shapes: tuple[Shape, ...]
    placed: tuple[Placed, ...] = ()
    keeps_next: bool = False


def set_block(block: Block, wide_mm: float) -> list[Set]:
    """Return a block as pieces that a page may end between.

    Parameters
    ----------
    block : Block
    wide_mm : float
        Width of the text.
    """
    if isinstance(block, Table):
        return _table(block, wide_mm)
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
    box = Polygon((_box(0.0, -3.0, wide, 7.5),), BAND)
    words = Text((2.0, -8.6), heading.words, 5.0, bold=True)
    return Set(13.0, (box, words), keeps_next=True)


def _box(left: float, top: float, wide: float, high: float) -> Floats:
    return rectangle((left, top - high), (left + wide, top))


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
            Line(_box(x, y - 1.0, step - 2.0, high - 2.0), "thin", closed=True),
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
        shapes.append(Line(_box(0.5, -1.2, 4.2, 4.2), "thin", closed=True))
    if isinstance(block, Heed):
        left = 4.0
    small = isinstance(block, Heed) and block.usual
    size = 3.1 if small else SIZE_MM
    bold = isinstance(block, Heed) and not block.usual
    words = f"Warning: {block.words}" if bold else block.words
    lines = lines_of(words, size, wide - left - (2.0 if isinstance(block, Heed) else 0.0))
    high = len(lines) * size * LEAD + 1.6
    if bold:
        shapes.append(Polygon((_box(0.0, -0.4, wide, high - 0.2),), GRAVE))
    elif small:
        shapes.append(Line(np.array([[1.5, -0.6], [1.5, -high + 0.8]]), "heavy"))
    for row, line in enumerate(lines):
        shapes.append(Text((left, -1.0 - size - row * size * LEAD), line, size))
    return Set(high + (1.2 if isinstance(block, Heed) else 0.0), tuple(shapes))


def _table(table: Table, wide: float) -> list[Set]:
    """Return a head and rows; columns share the width by their longest words."""
    rows = (table.head, *table.rows)
    longest = [
        max(width_mm(row[k], SIZE_MM, bold=True) for row in rows) for k in range(len(rows[0]))
    ]
    indent = 7.0 if table.ticks else 0.0
    room = min(wide, indent + sum(longest) + 8.0 * len(longest))
    gaps = (room - indent - sum(longest)) / len(longest)
    lefts = indent + np.cumsum([0.0, *(one + gaps for one in longest[:-1])])
    high = SIZE_MM * LEAD + 1.0
    found = []
    for number, row in enumerate(rows):
        head = number == 0
        shapes: list[Shape] = []
        if head:
            shapes.append(Polygon((_box(0.0, -0.3, room, high - 0.3),), BAND))
        else:
            shapes.append(Line(np.array([[0.0, -high], [room, -high]]), "faint"))
        if table.ticks and not head:
            shapes.append(Line(_box(0.8, -0.9, 4.2, 4.2), "thin", closed=True))
        shapes += [
            Text((float(left) + 1.0, -0.8 - SIZE_MM), words, SIZE_MM, bold=head)
            for left, words in zip(lefts, row, strict=True)
        ]
        found.append(Set(high, tuple(shapes), (), keeps_next=head))
    last = found[-1]
    found[-1] = Set(last.height_mm + 2.5, last.shapes)
    return found


def _side(side: Side) -> Set:
    """Return figures side by side, their captions below."""
    shapes: list[Shape] = []
    placed, x = [], 0.0
    high = max(one.drawing.size_mm[1] for one in side.figures)
    for figure in side.figures:
        one = figure.drawing
        placed.append(Placed(one, one.low_mm, one.high_mm, (x, -one.size_mm[1])))
        shapes.append(Text((x, -high - 4.0), figure.caption, 3.1))
        x += one.size_mm[0] + 4.0
    return Set(high + 7.0, tuple(shapes), tuple(placed))
