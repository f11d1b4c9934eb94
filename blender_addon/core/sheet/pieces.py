"""What a job sheet is set in: pieces with their height, drawn from their upper left corner down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .drawing import rectangle

if TYPE_CHECKING:
    from ..arrays import Floats
    from .drawing import Shape
    from .page import Placed

SIZE_MM, LEAD = 3.6, 1.4
"""Letters of the text, and the distance of lines by their size."""

BAND = (0.9, 0.9, 0.9)
"""Behind heads of tables and headings."""


@dataclass(frozen=True, eq=False)
class Set:
    """A piece as it lies on the page; the origin is its upper left corner, y goes up.

    ``keeps_next`` holds it on the page of what follows; ``head`` is set again over it where it is
    the first on a page.
    """

    height_mm: float
    shapes: tuple[Shape, ...]
    placed: tuple[Placed, ...] = ()
    keeps_next: bool = False
    head: Set | None = None


def box_below(left: float, top: float, wide: float, high: float) -> Floats:
    """Return the corners (4, 2) of a box that hangs from its upper left corner."""
    return rectangle((left, top - high), (left + wide, top))
