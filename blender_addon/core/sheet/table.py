"""A table of a job sheet, row by row; its head comes again on each page."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import FOLD_ROWS
from .drawing import Line, Polygon, Text
from .letters import width_mm
from .pieces import BAND, LARGE_MM, LEAD, SIZE_MM, Set, box_below

if TYPE_CHECKING:
    from .blocks import Table
    from .drawing import Shape

SHORT_ROWS = 20
"""A table of no more, its head among them, is on one page; of a longer one, at least two rows."""

GAP_MM, BOX_MM, TICK_MM, BESIDE_MM = 4.0, 7.0, 4.2, 8.0
"""Least room between columns, room for a box to tick, the box, room between parts side by side."""


@dataclass(frozen=True)
class _Grid:
    """Where columns begin, how large the letters are, how high a row and how broad all is."""

    lefts: tuple[float, ...]
    size_mm: float
    high_mm: float
    wide_mm: float

    def beside(self, by_mm: float) -> _Grid:
        """Return the same farther to the right."""
        return dataclasses.replace(self, lefts=tuple(one + by_mm for one in self.lefts))


def set_table(table: Table, wide_mm: float) -> list[Set]:
    """Return head and rows; letters are smaller where the longest words would not fit.

    A narrow table of many rows is set in parts side by side.

    Parameters
    ----------
    table : Table
    wide_mm : float
        Width of the text.
    """
    grids = _grids_of(table, wide_mm)
    head = Set(grids[0].high_mm, tuple(shape for each in grids for shape in _head(table, each)))
    found, rows = [head], math.ceil(len(table.rows) / len(grids))
    for row in range(rows):
        here = zip(grids, table.rows[row::rows], strict=False)
        shapes = tuple(shape for each, cells in here for shape in _row(table, cells, each))
        found.append(Set(grids[0].high_mm, shapes, head=head))
    found[-1] = dataclasses.replace(found[-1], height_mm=found[-1].height_mm + 2.5)
    together = range(len(found)) if len(found) <= SHORT_ROWS else (0, 1, len(found) - 2)
    for k in together:
        found[k] = dataclasses.replace(found[k], keeps_next=k < len(found) - 1)
    return found


def _grids_of(table: Table, wide_mm: float) -> list[_Grid]:
    """Return where the parts of a table stand, one alone where it is short or wide."""
    if len(table.rows) >= FOLD_ROWS:
        for gaps in (2.0, 0.75):
            grid = _grid_of(table, wide_mm, gaps)
            step = grid.wide_mm + BESIDE_MM
            parts = min(int((wide_mm + BESIDE_MM) / step), len(table.rows) // (FOLD_ROWS // 2))
            if parts > 1:
                return [grid.beside(k * step) for k in range(parts)]
    return [_grid_of(table, wide_mm, 2.0)]


def _grid_of(table: Table, wide_mm: float, gaps: float) -> _Grid:
    wanted = LARGE_MM if table.large else SIZE_MM
    columns = zip(table.head, *table.rows, strict=True)
    longest = np.array([_longest_mm(one, wanted, bold=table.large) for one in columns])
    indent = BOX_MM if table.ticks else 0.0
    size = wanted * min(1.0, (wide_mm - indent - GAP_MM * len(longest)) / longest.sum())
    longest *= size / wanted
    room = min(wide_mm, indent + longest.sum() + gaps * GAP_MM * len(longest))
    step = longest + (room - indent - longest.sum()) / len(longest)
    lefts = tuple((indent + 1.0 + np.cumsum(step) - step).tolist())
    return _Grid(lefts, size, wanted * LEAD + 1.0, room)


def _longest_mm(column: tuple[str, ...], size_mm: float, *, bold: bool) -> float:
    head, *cells = column
    longest = max((width_mm(one, size_mm, bold=bold) for one in cells), default=0.0)
    return max(width_mm(head, size_mm, bold=True), longest)


def _left_mm(table: Table, grid: _Grid) -> float:
    return grid.lefts[0] - 1.0 - (BOX_MM if table.ticks else 0.0)


def _head(table: Table, grid: _Grid) -> list[Shape]:
    box = box_below(_left_mm(table, grid), -0.3, grid.wide_mm, grid.high_mm - 0.3)
    return [Polygon((box,), BAND), *_cells(table.head, grid, bold=True)]


def _row(table: Table, row: tuple[str, ...], grid: _Grid) -> list[Shape]:
    left = _left_mm(table, grid)
    ends = np.array([[left, -grid.high_mm], [left + grid.wide_mm, -grid.high_mm]])
    shapes: list[Shape] = [Line(ends, "faint")]
    if table.ticks:
        top = -(grid.high_mm - TICK_MM) / 2.0
        shapes.append(Line(box_below(left + 0.8, top, TICK_MM, TICK_MM), "thin", closed=True))
    return [*shapes, *_cells(row, grid, bold=table.large)]


def _cells(row: tuple[str, ...], grid: _Grid, *, bold: bool) -> list[Text]:
    low = -(grid.high_mm + 0.75 * grid.size_mm) / 2.0
    return [
        Text((left, low), words, grid.size_mm, bold=bold)
        for left, words in zip(grid.lefts, row, strict=True)
    ]
