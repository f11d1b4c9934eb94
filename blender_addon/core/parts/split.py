"""Into how many pieces the case must go so that each fits the print bed, and no more."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.parts import MOST_RINGS
from .bed import bed_of
from .flanges import flange_plan
from .joint import tongue
from .naming import SIDES
from .outlines import grown, section
from .seams import Seam, seams_of
from .steps import step_deep_mm

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats
    from ..case.result import CaseResult
    from .settings import PartsSettings


@dataclass(frozen=True, eq=False)
class Split:
    """The seams counter-clockwise from the back, and the heights of foot, ring joints and rim."""

    seams: tuple[Seam, ...]
    floors_mm: tuple[float, ...]

    @property
    def rings(self) -> int:
        """How many rings stand on each other."""
        return len(self.floors_mm) - 1


def foot_mm(case: CaseResult, settings: PartsSettings) -> float:
    """Return how deep the case stands below the board's top: a stock tube is not let in."""
    return 0.0 if case.kind == "stock tube" else settings.groove_mm


def split_of(case: CaseResult, settings: PartsSettings) -> Split:
    """Return the fewest seams and rings with which every piece fits the print bed.

    Where no split helps it has the most of them: its pieces come nearest to the bed.
    """
    return Split(_seams(case, settings), _floors(case, settings))


def sector(begin: Seam, end: Seam, count: int) -> manifold3d.CrossSection:
    """Return the plan between two seams, counter-clockwise from the first."""
    return begin.side(1.0) if count == 2 else begin.side(1.0) ^ end.side(-1.0)


def _seams(case: CaseResult, settings: PartsSettings) -> tuple[Seam, ...]:
    bed, bore = bed_of(settings), case.bore.outline_mm
    wall = section(grown(bore, case.wall_mm)) - section(bore)
    for count in SIDES:
        seams = seams_of(bore, case.wall_mm, count)
        plans = [
            _plan(wall, seams[k], seams[(k + 1) % count], count, settings) for k in range(count)
        ]
        if all(bed.turn_deg(plan) is not None for plan in plans):
            break
    return seams


def _plan(
    wall: manifold3d.CrossSection, begin: Seam, end: Seam, count: int, settings: PartsSettings
) -> Floats:
    flanges = flange_plan(begin, 1.0, settings) + flange_plan(end, -1.0, settings)
    flanges += end.placed(tongue(end.wall_mm, settings))
    piece = (wall ^ sector(begin, end, count)) + flanges
    return np.vstack(piece.to_polygons())


def _floors(case: CaseResult, settings: PartsSettings) -> tuple[float, ...]:
    low, high = -foot_mm(case, settings), case.height_mm
    room = settings.bed_z_mm
    if high - low <= room:
        return (low, high)
    skirt = step_deep_mm(case.wall_mm, settings.fit_mm)
    count = min(math.ceil((high - low) / (room - skirt) - 1e-9), MOST_RINGS)
    return tuple(float(z) for z in np.linspace(low, high, count + 1))
