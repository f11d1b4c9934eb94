"""What the sheet stage hands on: drawings at true size, and the pages that they are printed on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from .cut_views import cut_figures, cut_views_drawing
from .packing import pages_of, sheets_of

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..cut.result import CutResult
    from .blocks import Figure
    from .drawing import Drawing
    from .page import Page


@dataclass(frozen=True, eq=False)
class SheetResult:
    """``templates`` are the drawings at true size, to be printed on ``paper``.

    Pictures of the cut and the pages are drawn when they are asked for: they take longer than the
    rest, and most runs only change a number.
    """

    templates: tuple[Drawing, ...]
    paper: str
    case: CaseResult
    cut: CutResult

    @cached_property
    def cut_figures(self) -> tuple[Figure, ...]:
        """Two pictures of the cut on the piece, smaller than it is."""
        return cut_figures(self.case, self.cut)

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """The templates and the pictures of the cut."""
        return (*self.templates, *cut_views_drawing(self.cut_figures))

    @cached_property
    def sheets(self) -> tuple[int, ...]:
        """On how many pages each of the drawings is; small ones share a page."""
        return tuple(sheets_of(one, self.paper) for one in self.drawings)

    @cached_property
    def pages(self) -> tuple[Page, ...]:
        """All pages."""
        return pages_of(self.drawings, self.paper)
