"""What a job sheet is set in: pieces with their height, drawn from their upper left corner down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .drawing import rectangle

if TYPE_CHECKING:
    from collections.abc import Callable

    from ..arrays import Floats
    from .drawing import Shape
    from .page import Placed

SIZE_MM, LARGE_MM, LEAD = 3.6, 5.2, 1.4
"""Letters of the text and of what is weighed out; the distance of lines by their size."""

BAND = (0.9, 0.9, 0.9)
"""Behind heads of tables and headings."""


@dataclass(frozen=True, eq=False)
class Set:
    """A piece as it lies on the page; the origin is its upper left corner, y goes up.

    ``keeps_next`` holds it on the page of what follows; ``head`` is set again over it where it is
    the first on a page. Where less room than its height is left, but ``least_mm``, it is made anew
    by ``smaller``, which takes the room in mm; if it ``wants_next``, to leave room for that too.
    """

    height_mm: float
    shapes: tuple[Shape, ...]
    placed: tuple[Placed, ...] = ()
    keeps_next: bool = False
    head: Set | None = None
    least_mm: float | None = None
    smaller: Callable[[float], Set] | None = None
    wants_next: bool = False


def box_below(left: float, top: float, wide: float, high: float) -> Floats:
    """Return the corners (4, 2) of a box that hangs from its upper left corner."""
    return rectangle((left, top - high), (left + wide, top))
