"""What is told of parts that the print bed has no room for: by how much, and what helps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..notices import Notice
from ..sentences import a_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .bed import Bed
    from .result import Part

HELP = {
    "case": (
        "Have the case printed on a larger bed and set its size from parts.bed_x_mm on, or take a"
        " tube."
    ),
    "base": "Saw the board of wood by its template at true size, or take a larger bed.",
    "funnel": (
        "Take a smaller funnel.bowl_ml or funnel.widest_throat_mm, or make it of card by its"
        " pattern."
    ),
}
"""What helps, by the part's role."""


def larger_notices(parts: Sequence[Part], bed: Bed, sides: int, rings: int) -> list[Notice]:
    """Return a warning for each role of which a part is larger than the bed, the worst part named.

    Parameters
    ----------
    parts : sequence of Part
    bed : Bed
    sides, rings : int
        Into how many pieces round and on each other the case goes.
    """
    found = []
    for role, help_text in HELP.items():
        large = [one for one in parts if one.role == role and not one.fits_bed]
        if large:
            worst = max(large, key=lambda one: one.over_bed_mm)
            split = f", even in {sides} pieces round and {rings} high" if role == "case" else ""
            text = f"{_too_large(worst, bed)}{split}. {help_text}"
            found.append(Notice("larger_than_bed", text))
    return found


def _too_large(part: Part, bed: Bed) -> str:
    wide, deep, tall = (a_length(one) for one in part.size_mm)
    over = a_length(part.over_bed_mm)
    room = " by ".join(a_length(one) for one in (bed.x_mm, bed.y_mm, bed.z_mm))
    return (
        f"The {part.name} is {over} too large for the print bed: it takes {wide} by {deep} and is"
        f" {tall} high, and the printer has {room}"
    )
