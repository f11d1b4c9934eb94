"""A drawing on as many sheets as it needs, to be joined; each sheet shows whether it is true."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import CHECK_LINE_MM, JOIN_MARK_MM, PRINTER_EDGE_MM
from ..units import length_text
from .drawing import Line, Text
from .joints import clear_of_joints
from .page import PAPERS, Page, Placed

if TYPE_CHECKING:
    from .drawing import Drawing, Shape, Spot

FOOT_MM, SIDE_MM = 17.0, 8.0
"""Room for the words with the level check line, and for the upright one."""


@dataclass(frozen=True)
class Tiling:
    """Sheets of ``paper_mm``, each showing ``cell_mm`` of a drawing, row by row from the top."""

    paper_mm: Spot
    cell_mm: Spot
    columns: int
    rows: int

    @property
    def sheets(self) -> int:
        """How many there are."""
        return self.columns * self.rows


def tiling_of(size_mm: Spot, paper: str) -> Tiling:
    """Return the tiling of the fewest sheets, upright unless lying ones are fewer.

    Parameters
    ----------
    size_mm : tuple
        Width and height of the drawing.
    paper : str
        A name of `PAPERS`.

    Examples
    --------
    >>> tiling_of((528.65, 200.0), "A4").sheets, tiling_of((190.0, 190.0), "Letter").columns
    (3, 2)
    """
    upright = PAPERS[paper]
    both = (_tiling(size_mm, one) for one in (upright, (upright[1], upright[0])))
    return min(both, key=lambda one: one.sheets)


def room_mm(paper_mm: Spot) -> Spot:
    """Return the width and height that a sheet has for a drawing."""
    edges = 2.0 * PRINTER_EDGE_MM
    return paper_mm[0] - edges - SIDE_MM, paper_mm[1] - edges - FOOT_MM


def _tiling(size_mm: Spot, paper_mm: Spot) -> Tiling:
    columns, rows = (
        max(math.ceil(size / most - 1e-9), 1)
        for size, most in zip(size_mm, room_mm(paper_mm), strict=True)
    )
    return Tiling(paper_mm, (size_mm[0] / columns, size_mm[1] / rows), columns, rows)


def tiled(drawing: Drawing, paper: str) -> tuple[Page, ...]:
    """Return a drawing as pages at true size, row by row from the top.

    Every point of the drawing's box lies on one sheet, those of a joint on two. Cut along the
    frame, joints lie edge to edge, and the halves of their marks make diamonds. Words that a joint
    would cut stand beside it.

    Parameters
    ----------
    drawing : Drawing
    paper : str
        A name of `PAPERS`.
    """
    tiling = tiling_of(drawing.size_mm, paper)
    drawing = clear_of_joints(drawing, tiling.cell_mm)
    return tuple(
        _page(drawing, tiling, row, column)
        for row in range(tiling.rows)
        for column in range(tiling.columns)
    )


def _page(drawing: Drawing, tiling: Tiling, row: int, column: int) -> Page:
    width, height = tiling.cell_mm
    low = (drawing.low_mm[0] + column * width, drawing.high_mm[1] - (row + 1) * height)
    room_x = room_mm(tiling.paper_mm)[0] - width
    at = (
        PRINTER_EDGE_MM + SIDE_MM + room_x / 2.0,
        tiling.paper_mm[1] - PRINTER_EDGE_MM - height,
    )
    placed = Placed(drawing, low, (low[0] + width, low[1] + height), at)
    if tiling.sheets == 1:
        return Page(tiling.paper_mm, tuple(bench_marks(drawing.title, "1 sheet")), (placed,))
    count = row * tiling.columns + column + 1
    where = f"Row {row + 1}, sheet {column + 1}  \xb7  {count} of {tiling.sheets}"
    advice = "Cut along the frame; join letter to letter."
    shapes = [*bench_marks(drawing.title, where, advice), *_frame(tiling, row, column, at)]
    return Page(tiling.paper_mm, tuple(shapes), (placed,))


def bench_marks(title: str, where: str, advice: str = "") -> list[Shape]:
    """Return the check lines of a sheet, its title, which sheet it is, and how to print it."""
    x, y = PRINTER_EDGE_MM + 8.0, PRINTER_EDGE_MM + 2.0
    right = x + CHECK_LINE_MM
    return [
        *_check_lines(),
        Text((x, y + 9.5), title, 4.0, bold=True),
        Text((x, y + 4.8), where, 3.2),
        Text((right, y + 8.8), advice, 2.8),
        Text((right, y + 4.8), "Print at 100 %, not fitted to the page.", 2.8),
        Text((right, y + 0.8), "Measure both lines before you use it.", 2.8),
    ]


def _check_lines() -> list[Shape]:
    """Return the two lines that must measure `CHECK_LINE_MM`, from one corner."""
    x, y, long = PRINTER_EDGE_MM + 2.0, PRINTER_EDGE_MM + 2.0, CHECK_LINE_MM
    words = f"{length_text(long, 'g')} = {length_text(long, inches=True)}"
    return [
        Line(np.array([[x, y], [x + long, y]]), "thin"),
        Line(np.array([[x, y], [x, y + long]]), "thin"),
        Line(np.array([[x + long, y - 1.5], [x + long, y + 1.5]]), "thin"),
        Line(np.array([[x - 1.5, y + long], [x + 1.5, y + long]]), "thin"),
        Text((x + long - 2.0, y + 1.2), words, 3.0, "end"),
        Text((x + 3.8, y + long - 2.0), words, 3.0, "end", 90.0),
    ]


def _frame(tiling: Tiling, row: int, column: int, at: Spot) -> list[Shape]:
    """Return the frame to cut along, and at each joint half a diamond and its letter."""
    (x, y), (width, height) = at, tiling.cell_mm
    box = np.array([[x, y], [x + width, y], [x + width, y + height], [x, y + height]])
    shapes: list[Shape] = [Line(box, "faint", closed=True)]
    upright_joints = tiling.rows * (tiling.columns - 1)
    if column > 0:
        shapes += _half((x, y + height / 2.0), (1.0, 0.0), row * (tiling.columns - 1) + column - 1)
    if column < tiling.columns - 1:
        number = row * (tiling.columns - 1) + column
        shapes += _half((x + width, y + height / 2.0), (-1.0, 0.0), number)
    if row > 0:
        number = upright_joints + (row - 1) * tiling.columns + column
        shapes += _half((x + width / 2.0, y + height), (0.0, -1.0), number)
    if row < tiling.rows - 1:
        number = upright_joints + row * tiling.columns + column
        shapes += _half((x + width / 2.0, y), (0.0, 1.0), number)
    return shapes


def _half(at: Spot, inward: Spot, number: int) -> list[Shape]:
    """Return half a diamond on an edge of the frame, and the letter that its joint bears."""
    middle, way = np.asarray(at), np.asarray(inward)
    along = np.array([-way[1], way[0]])
    size = JOIN_MARK_MM
    corners = np.array([middle + size * along, middle + size * way, middle - size * along])
    x, y = (middle + 0.38 * size * way).tolist()
    return [Line(corners, "thin"), Text((x, y - 1.1), letters(number), 3.2, "middle", bold=True)]


def letters(number: int) -> str:
    """Return the name of a joint: A to Z, then AA and so on.

    Examples
    --------
    >>> letters(0), letters(25), letters(26)
    ('A', 'Z', 'AA')
    """
    return (letters(number // 26 - 1) if number >= 26 else "") + chr(ord("A") + number % 26)
