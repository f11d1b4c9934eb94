"""Small drawings share a sheet, large ones take several."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.sheet import PRINTER_EDGE_MM
from .page import PAPERS, Page, Placed
from .tiles import SIDE_MM, bench_marks, room_mm, tiled, tiling_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .drawing import Drawing, Spot

GAP_MM = 4.0


def pages_of(drawings: Sequence[Drawing], paper: str) -> tuple[Page, ...]:
    """Return drawings as pages at true size: large ones in their order, then the small ones.

    Parameters
    ----------
    drawings : sequence of Drawing
        Those that fit on one upright sheet share sheets, the tallest first.
    paper : str
        A name of `PAPERS`.

    References
    ----------
    .. [1] Coffman, Garey, Johnson, Tarjan: Performance bounds for level-oriented two-dimensional
       packing algorithms, SIAM J. Comput. 9 (1980) 808 (first fit by decreasing height).
    """
    room = room_mm(PAPERS[paper])
    small = [one for one in drawings if _fits(one.size_mm, room)]
    pages = [page for one in drawings if one not in small for page in tiled(one, paper)]
    shelves: list[_Shelves] = []
    for one in sorted(small, key=lambda one: -one.size_mm[1]):
        if not any(each.takes(one) for each in shelves):
            shelves.append(_Shelves(paper))
            shelves[-1].takes(one)
    return (*pages, *(each.page() for each in shelves))


def sheets_of(drawing: Drawing, paper: str) -> int:
    """Return on how many sheets a drawing is."""
    return tiling_of(drawing.size_mm, paper).sheets


def _fits(size_mm: Spot, room_mm: Spot) -> bool:
    return size_mm[0] <= room_mm[0] and size_mm[1] <= room_mm[1]


class _Shelves:
    """A sheet that is filled row by row from the top; a row is as high as what was put in first."""

    def __init__(self, paper: str) -> None:
        self._paper_mm = PAPERS[paper]
        self._room = room_mm(self._paper_mm)
        self._placed: list[tuple[Drawing, Spot]] = []
        self._rows: list[list[float]] = []

    def takes(self, drawing: Drawing) -> bool:
        """Tell whether there is room for a drawing, and put it there."""
        width, height = drawing.size_mm
        for row in self._rows:
            top, high, used = row
            if height <= high and used + width <= self._room[0]:
                self._placed.append((drawing, (used, top)))
                row[2] = used + width + GAP_MM
                return True
        top = sum(high + GAP_MM for _, high, _ in self._rows)
        if top + height > self._room[1]:
            return False
        self._rows.append([top, height, width + GAP_MM])
        self._placed.append((drawing, (0.0, top)))
        return True

    def page(self) -> Page:
        """Return the sheet."""
        titles = [drawing.title for drawing, _ in self._placed]
        left, over = PRINTER_EDGE_MM + SIDE_MM, self._paper_mm[1] - PRINTER_EDGE_MM
        wide = max(x + one.size_mm[0] for one, (x, _) in self._placed)
        left += (self._room[0] - wide) / 2.0
        placed = tuple(
            Placed(one, one.low_mm, one.high_mm, (left + x, over - top - one.size_mm[1]))
            for one, (x, top) in self._placed
        )
        more = f" and {len(titles) - 1} more" if len(titles) > 1 else ""
        return Page(self._paper_mm, tuple(bench_marks(titles[0] + more, "1 sheet")), placed)
