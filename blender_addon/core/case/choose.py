"""Which case to take: the smallest tube that does, one to print, or the one that was picked."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ..constants.case import (
    CASE_CHOICES,
    FAR_BACK_DEG,
    HALF_BACK_DEG,
    HEAVIEST_RUBBER_KG_M3,
    PRINTED_STRESS_MPA,
    WALL_STEP_MM,
)
from ..constants.common import GRAVITY_M_S2
from ..errors import BadSettingError
from ..notices import Notice
from ..sentences import a_length
from .bore import round_bore
from .case import AUTOMATIC, PRINTED, ROUND, STOCK, Case
from .printed import printed_case
from .sector import Sector
from .stand import find_stand
from .wall import wall_needed_mm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ..catalog.tube import Tube
    from ..watch import Watch
    from .footprint import Footprint
    from .settings import CaseSettings


M_PER_MM = 1e-3
MPA_PER_PA = 1e-6


@dataclass(frozen=True, eq=False)
class Chosen:
    """The case to take, others that would do, the least bore first, and why it is not another."""

    case: Case
    others: tuple[Case, ...]
    notices: tuple[Notice, ...] = ()


def choose(
    plan: Footprint, stock: Sequence[Tube], settings: CaseSettings, height_mm: float, watch: Watch
) -> Chosen:
    """Return the case to take and others that would do.

    With a front marked the back looks away from it, unless the stock then has no tube that does.

    Parameters
    ----------
    plan : Footprint
        The master's.
    stock : sequence of Tube
        The tubes to choose from, narrowest first.
    settings : CaseSettings
        What is asked, and what was picked.
    height_mm : float
        How high the case must be; a tube shorter than that does not do.
    watch : Watch
        Told of progress.

    Raises
    ------
    BadSettingError
        If a tube is asked for and none does.
    """
    allowed = _backs(settings)
    tubes = list(_stock_cases(plan, stock, settings, height_mm, allowed, watch))
    if not tubes and settings.front_deg >= 0.0:
        tubes = list(_stock_cases(plan, stock, settings, height_mm, (Sector(),), watch))
    drawn = (printed_case(kind, plan, settings, allowed) for kind in PRINTED)
    prints = [_walled(case, height_mm) for case in drawn if case is not None]
    case, notices = _taken(plan, stock, settings, height_mm, tubes, prints)
    others = [one for one in (*prints, *tubes) if one is not case and one.name != case.name]
    others.sort(key=lambda one: one.bore.area_mm2)
    return Chosen(case, tuple(others), notices)


def _walled(case: Case, height_mm: float) -> Case:
    """Return a case to print with the wall that it needs when it is full of rubber."""
    pascal = HEAVIEST_RUBBER_KG_M3 * GRAVITY_M_S2 * height_mm * M_PER_MM
    needed = wall_needed_mm(case.bore, pascal * MPA_PER_PA, PRINTED_STRESS_MPA)
    steps = math.ceil(needed / WALL_STEP_MM)
    return replace(case, wall_mm=max(case.wall_mm, round(steps * WALL_STEP_MM, 6)))


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
    height_mm: float,
    allowed: tuple[Sector, ...],
    watch: Watch,
) -> Iterator[Case]:
    """Yield the narrowest tube that does, and the next wider ones."""
    count = 0
    for tube in stock:
        if _too_short(tube, height_mm) or not (case := _tube_case(plan, tube, settings, allowed)):
            continue
        yield case
        count += 1
        watch.at(0.2 + 0.6 * count / (CASE_CHOICES + 1))
        if count > CASE_CHOICES:
            return


def _tube_case(
    plan: Footprint, tube: Tube, settings: CaseSettings, allowed: tuple[Sector, ...]
) -> Case | None:
    stand = find_stand(plan, tube.inner_diameter_mm / 2.0, settings, allowed)
    bore = round_bore(tube.inner_diameter_mm)
    return Case(tube.name, STOCK, bore, tube.wall_mm, stand, tube) if stand else None


def _too_short(tube: Tube, height_mm: float) -> bool:
    return 0.0 < tube.length_mm < height_mm


def _taken(
    plan: Footprint,
    stock: Sequence[Tube],
    settings: CaseSettings,
    height_mm: float,
    tubes: Sequence[Case],
    prints: Sequence[Case],
) -> tuple[Case, tuple[Notice, ...]]:
    """Return the case that was picked, or the one that does in its place and why."""
    notices = []
    if settings.tube and settings.kind in {AUTOMATIC, STOCK}:
        tube = next((one for one in stock if one.name == settings.tube), None)
        case = None
        if tube is not None and not _too_short(tube, height_mm):
            case = _tube_case(plan, tube, settings, (*_backs(settings), Sector()))
        if case is not None:
            return case, ()
        why = _why_not(settings.tube, tube, prints, height_mm)
        text = f"The tube that you picked does not do any more: {why} Pick another one."
        notices.append(Notice("pick_does_not_do", text))
    if settings.kind in PRINTED:
        case = next((one for one in prints if one.kind == settings.kind), None)
        if case is not None:
            return case, ()
        text = f"No {settings.kind} case was found that leaves all the rubber that is asked for."
        notices.append(Notice("pick_does_not_do", text))
    elif tubes:
        return tubes[0], tuple(notices)
    short = _short_of(stock, prints, height_mm)
    if settings.kind == STOCK:
        message = f"{short} Choose Automatic or a printed case, or add a tube to your own list."
        raise BadSettingError("case.kind", message)
    if settings.kind == AUTOMATIC:
        width = a_length(_round_mm(prints), "g")
        text = f"{short} Print a case {width} wide inside, or add a wider tube to your own list."
        notices.append(Notice("printed_case", text))
    return next(one for one in prints if one.kind == ROUND), tuple(notices)


def _round_mm(prints: Sequence[Case]) -> float:
    """Return the narrowest round bore that does, in whole steps."""
    return next(one.bore.inner_diameter_mm for one in prints if one.kind == ROUND)


def _why_not(name: str, tube: Tube | None, prints: Sequence[Case], height_mm: float) -> str:
    if tube is None:
        return f"{name} is not on the list of tubes."
    if _too_short(tube, height_mm):
        left, high = a_length(tube.length_mm), a_length(height_mm)
        return f"of {name} {left} are left, and the case is {high} high."
    least = _round_mm(prints)
    lacking = max(least - tube.inner_diameter_mm, 0.0)
    return (
        f"{name} is {a_length(tube.inner_diameter_mm)} wide inside, and {a_length(least, 'g')} are"
        f" needed: {a_length(lacking)} more."
    )


def _short_of(stock: Sequence[Tube], prints: Sequence[Case], height_mm: float) -> str:
    """Say that no tube does, and by how much the best one misses."""
    least = _round_mm(prints)
    wide = [one for one in stock if one.inner_diameter_mm >= least]
    if wide:
        longest = max(wide, key=lambda one: one.length_mm)
        left, high = a_length(longest.length_mm), a_length(height_mm)
        return (
            f"No tube of the list that is wide enough is long enough: of {longest.name} {left} are"
            f" left, and the case is {high} high."
        )
    widest = max(stock, key=lambda one: one.inner_diameter_mm)
    lacking = a_length(least - widest.inner_diameter_mm)
    return (
        f"No tube of the list is wide enough: the widest, {widest.name}, is"
        f" {a_length(widest.inner_diameter_mm)} wide inside, {lacking} less than needed."
    )
