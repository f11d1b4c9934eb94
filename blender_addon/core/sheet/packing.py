"""Small drawings share a sheet, large ones take several."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants import PRINTER_EDGE_MM
from .page import PAPERS, Page, Placed
from .tiles import SIDE_MM, bench_marks, room_mm, tiled, tiling_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .drawing import Drawing, Spot

GAP_MM = 4.0


def pages_of(drawings: Sequence[Drawing], paper: str) -> tuple[Page, ...]:
    """Return drawings as pages at true size, in their order.

    Parameters
    ----------
    drawings : sequence of Drawing
        Neighbours that fit on one upright sheet lie on one.
    paper : str
        A name of `PAPERS`.
    """
    pages: list[Page] = []
    shelf = _Shelf(paper)
    for drawing in drawings:
        if shelf.takes(drawing):
            continue
        pages += shelf.page()
        shelf = _Shelf(paper)
        if not shelf.takes(drawing):
            pages += tiled(drawing, paper)
    return (*pages, *shelf.page())


def sheets_of(drawing: Drawing, paper: str) -> int:
    """Return on how many sheets a drawing is."""
    return tiling_of(drawing.size_mm, paper).sheets


class _Shelf:
    """A sheet that is filled row by row from the top, each row from the left."""

    def __init__(self, paper: str) -> None:
        self._paper_mm = PAPERS[paper]
        self._room = room_mm(self._paper_mm)
        self._placed: list[tuple[Drawing, Spot]] = []
        self._x = self._top = self._deep = 0.0

    def takes(self, drawing: Drawing) -> bool:
        """Tell whether there is room for a drawing, and put it there."""
        width, height = drawing.size_mm
        x, top = self._x, self._top
        if x + width > self._room[0]:
            x, top = 0.0, self._top + self._deep
        if x + width > self._room[0] or top + height > self._room[1]:
            return False
        self._placed.append((drawing, (x, top)))
        deep = 0.0 if top > self._top else self._deep
        self._x, self._top, self._deep = x + width + GAP_MM, top, max(deep, height + GAP_MM)
        return True

    def page(self) -> list[Page]:
        """Return the sheet, if there is anything on it."""
        if not self._placed:
            return []
        titles = [drawing.title for drawing, _ in self._placed]
        left, over = PRINTER_EDGE_MM + SIDE_MM, self._paper_mm[1] - PRINTER_EDGE_MM
        wide = max(x + one.size_mm[0] for one, (x, _) in self._placed)
        left += (self._room[0] - wide) / 2.0
        placed = tuple(
            Placed(one, one.low_mm, one.high_mm, (left + x, over - top - one.size_mm[1]))
            for one, (x, top) in self._placed
        )
        more = f" and {len(titles) - 1} more" if len(titles) > 1 else ""
        return [Page(self._paper_mm, tuple(bench_marks(titles[0] + more, "1 sheet")), placed)]
