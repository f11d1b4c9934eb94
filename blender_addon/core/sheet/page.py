"""A sheet of paper, and where drawings lie on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants.common import MM_PER_INCH

if TYPE_CHECKING:
    from .drawing import Drawing, Shape, Spot

PAPERS = {"A4": (210.0, 297.0), "Letter": (8.5 * MM_PER_INCH, 11.0 * MM_PER_INCH)}
"""Width and height, upright: ISO 216; ANSI/ASME Y14.1, size A."""


@dataclass(frozen=True, eq=False)
class Placed:
    """A part of a drawing: what of it lies from ``low_mm`` to ``high_mm``, at its true size.

    ``at_mm`` is where the lower left corner of that window lies on the page.
    """

    drawing: Drawing
    low_mm: Spot
    high_mm: Spot
    at_mm: Spot


@dataclass(frozen=True, eq=False)
class Page:
    """A sheet; what it bears of its own is in mm from its lower left corner."""

    size_mm: Spot
    shapes: tuple[Shape, ...] = ()
    placed: tuple[Placed, ...] = ()
