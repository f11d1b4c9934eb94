"""A table of a job sheet, row by row; its head comes again on each page."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from .drawing import Line, Polygon, Text
from .letters import width_mm
from .pieces import BAND, LEAD, SIZE_MM, Set, box_below

if TYPE_CHECKING:
    from .blocks import Table
    from .drawing import Shape

SHORT_ROWS = 10
"""A table of no more is on one page; of a longer one, at least two rows are."""

GAP_MM, BOX_MM, HIGH_MM = 4.0, 7.0, SIZE_MM * LEAD + 1.0
"""Least room between columns, room for a box to tick, height of a row."""


def set_table(table: Table, wide_mm: float) -> list[Set]:
    """Return head and rows; letters are smaller where the longest words would not fit.

    Parameters
    ----------
    table : Table
    wide_mm : float
        Width of the text.
    """
    columns = zip(table.head, *table.rows, strict=True)
    longest = np.array([max(width_mm(one, SIZE_MM, bold=True) for one in k) for k in columns])
    indent = BOX_MM if table.ticks else 0.0
    size = SIZE_MM * min(1.0, (wide_mm - indent - GAP_MM * len(longest)) / longest.sum())
    longest *= size / SIZE_MM
    room = min(wide_mm, indent + longest.sum() + 2.0 * GAP_MM * len(longest))
    step = longest + (room - indent - longest.sum()) / len(longest)
    lefts = (indent + 1.0 + np.cumsum(step) - step).tolist()
    head = Set(
        HIGH_MM,
        (
            Polygon((box_below(0.0, -0.3, room, HIGH_MM - 0.3),), BAND),
            *_cells(table.head, lefts, size, bold=True),
        ),
    )
    found = [head, *(_row(row, lefts, size, room, table, head) for row in table.rows)]
    found[-1] = dataclasses.replace(found[-1], height_mm=found[-1].height_mm + 2.5)
    together = range(len(found)) if len(found) <= SHORT_ROWS else (0, 1, len(found) - 2)
    for k in together:
        found[k] = dataclasses.replace(found[k], keeps_next=k < len(found) - 1)
    return found


def _row(
    row: tuple[str, ...], lefts: list[float], size: float, room: float, table: Table, head: Set
) -> Set:
    shapes: list[Shape] = [Line(np.array([[0.0, -HIGH_MM], [room, -HIGH_MM]]), "faint")]
    if table.ticks:
        shapes.append(Line(box_below(0.8, -0.9, 4.2, 4.2), "thin", closed=True))
    return Set(HIGH_MM, (*shapes, *_cells(row, lefts, size, bold=False)), head=head)


def _cells(row: tuple[str, ...], lefts: list[float], size: float, *, bold: bool) -> list[Text]:
    return [
        Text((left, -0.8 - SIZE_MM), words, size, bold=bold)
        for left, words in zip(lefts, row, strict=True)
    ]
