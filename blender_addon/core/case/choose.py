"""Which case to take: the smallest tube that does, or one to print."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants import CASE_CHOICES, FAR_BACK_DEG, HALF_BACK_DEG, PRINTED_STEP_MM
from .sector import Sector
from .stand import find_stand

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ..catalog.tube import Tube
    from ..watch import Watch
    from .footprint import Footprint
    from .settings import CaseSettings
    from .trial import Stand

STOCK, PRINTED = "stock tube", "printed round"


@dataclass(frozen=True, eq=False)
class Case:
    """A case that does, with the master's stand in it; ``tube`` is none when it is printed."""

    name: str
    kind: str
    inner_diameter_mm: float
    wall_mm: float
    stand: Stand
    tube: Tube | None = None


def choose(
    plan: Footprint, stock: Sequence[Tube], settings: CaseSettings, watch: Watch
) -> tuple[Case, ...]:
    """Return the case to take, then others that would do: one to print if narrower, wider tubes.

    With a front marked the back looks away from it, unless the stock then has no tube that does.
    """
    allowed = _backs(settings)
    cases = tuple(_stock_cases(plan, stock, settings, allowed, watch))
    if not cases and settings.front_deg >= 0.0:
        cases = tuple(_stock_cases(plan, stock, settings, (Sector(),), watch))
    printed = printed_case(plan, settings, allowed)
    if not cases:
        return (printed,)
    narrower = printed.inner_diameter_mm < cases[0].inner_diameter_mm
    return (cases[0], printed, *cases[1:-1]) if narrower else cases


def printed_case(plan: Footprint, settings: CaseSettings, allowed: tuple[Sector, ...]) -> Case:
    """Return the narrowest round case in whole steps.

    A master that stands in one bore stands in any wider one that touches the first at the back; so
    the narrowest is found by halving. Pushed against the front, the circle round the master leaves
    the widest bore's spare at the back, whatever the shape.
    """
    need_mm = max(settings.least_channel_mm, settings.cut_rubber_mm)
    least_mm = 2.0 * (plan.radius_mm + settings.least_rubber_mm)
    low = math.floor(least_mm / PRINTED_STEP_MM)
    high = math.ceil((least_mm - settings.least_rubber_mm + need_mm) / PRINTED_STEP_MM)
    high = max(high, low) + 1
    found = None
    while low < high or found is None:
        middle = (low + high) // 2
        stand = find_stand(plan, middle * PRINTED_STEP_MM / 2.0, settings, allowed)
        if stand:
            found, high = stand, middle
        else:
            low = middle + 1
            high = max(high, low)
    inner_mm = high * PRINTED_STEP_MM
    return Case(
        f"printed round case {inner_mm:g} mm", PRINTED, inner_mm, settings.printed_wall_mm, found
    )


def _backs(settings: CaseSettings) -> tuple[Sector, ...]:
    """Return where the back may lie, best first; anywhere when no front is marked."""
    if settings.front_deg < 0.0:
        return (Sector(),)
    behind = settings.front_deg + 180.0
    return Sector(behind, FAR_BACK_DEG), Sector(behind, HALF_BACK_DEG)


def _stock_cases(
    plan: Footprint,
    stock: Sequence[Tube],
    settings: CaseSettings,
    allowed: tuple[Sector, ...],
    watch: Watch,
) -> Iterator[Case]:
    """Yield the narrowest tube that does, and the next wider ones."""
    count = 0
    for tube in stock:
        stand = find_stand(plan, tube.inner_diameter_mm / 2.0, settings, allowed)
        if stand is None:
            continue
        yield Case(tube.name, STOCK, tube.inner_diameter_mm, tube.wall_mm, stand, tube)
        count += 1
        watch.at(0.2 + 0.6 * count / (CASE_CHOICES + 1))
        if count > CASE_CHOICES:
            return
