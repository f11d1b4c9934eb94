"""What the sheet stage hands on: drawings at true size, and the pages that they are printed on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .blocks import Figure
    from .drawing import Drawing
    from .page import Page


@dataclass(frozen=True, eq=False)
class SheetResult:
    """``sheets`` says on how many pages each of the ``drawings`` is; small ones share a page.

    ``cut_figures`` are two pictures of the cut on the piece, smaller than it is.
    """

    drawings: tuple[Drawing, ...]
    sheets: tuple[int, ...]
    pages: tuple[Page, ...]
    cut_figures: tuple[Figure, ...]
