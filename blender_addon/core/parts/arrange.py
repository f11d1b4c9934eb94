"""The parts beside each other on as many print beds as they take."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.parts import BED_GAP_MM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .bed import Bed
    from .result import Part


def arranged(parts: Sequence[Part], bed: Bed) -> tuple[tuple[int, float, float], ...]:
    """Return for each part its bed and where its middle stands on it, from the bed's middle.

    Deepest first in rows from the front, left to right; a new bed where a row finds no room.
    """
    places: dict[int, tuple[int, float, float]] = {}
    number, x, y, row = 0, 0.0, 0.0, 0.0
    for k in sorted(range(len(parts)), key=lambda one: -parts[one].size_mm[1]):
        wide, deep, _ = parts[k].size_mm
        if x and x + wide > bed.x_mm:
            x, y, row = 0.0, y + row + BED_GAP_MM, 0.0
        if y and y + deep > bed.y_mm:
            number, x, y, row = number + 1, 0.0, 0.0, 0.0
        places[k] = (
            number, x + wide / 2.0 - bed.x_mm / 2.0, y + deep / 2.0 - bed.y_mm / 2.0,
        )  # fmt: skip
        x, row = x + wide + BED_GAP_MM, max(row, deep)
    return tuple(places[k] for k in range(len(parts)))
