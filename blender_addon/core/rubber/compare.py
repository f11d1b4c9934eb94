"""The cases that would do, with what the rubber for each weighs and costs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ..case.case import STOCK

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .result import RubberResult


@dataclass(frozen=True)
class Compared:
    """One case; ``cost`` is of rubber, spare counted in, and tube, 0 where no price is given.

    ``saved_g`` is the rubber that it saves against the smallest tube that does; a wider one takes
    more, and it is below zero. It is 0 where no tube does.
    """

    name: str
    kind: str
    rubber_ml: float
    mass_g: float
    least_rubber_mm: float
    channel_mm: float
    height_mm: float
    cost: float
    taken: bool
    saved_g: float = 0.0


def compared(case: CaseResult, rubber: RubberResult) -> tuple[Compared, ...]:
    """Return the case that was taken and the others, the least rubber first.

    Parameters
    ----------
    case : CaseResult
        What was taken and what else would do.
    rubber : RubberResult
        Its mix for the case that was taken says what a millilitre weighs and costs.
    """
    taken = () if case.taken is None else (case.taken,)
    g_per_ml = rubber.mass_g / rubber.volume_ml  # with the spare
    per_g = rubber.cost / rubber.mass_g if rubber.cost else 0.0
    found = [
        Compared(
            name=one.name,
            kind=one.kind,
            rubber_ml=one.rubber_ml,
            mass_g=(mass_g := one.rubber_ml * g_per_ml),
            least_rubber_mm=one.least_rubber_mm,
            channel_mm=one.channel_mm,
            height_mm=one.height_mm,
            cost=mass_g * per_g + one.tube_price if per_g else 0.0,
            taken=one is case.taken,
        )
        for one in (*taken, *case.choices)
    ]
    tubes_g = [one.mass_g for one in found if one.kind == STOCK]
    if tubes_g:
        found = [replace(one, saved_g=min(tubes_g) - one.mass_g) for one in found]
    return tuple(sorted(found, key=lambda one: one.rubber_ml))
