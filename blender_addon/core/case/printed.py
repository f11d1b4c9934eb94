"""Cases to print: round, oval, or along the master's outline."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import LIKELY_SPOTS, PRINTED_STEP_MM, PRINTED_WIDENINGS
from ..constants.common import GROUND_MM
from ..sentences import Sentence, a_length, some_lengths
from .around import stand_in, swept
from .bore import round_bore
from .case import CONTOUR, OVAL, ROUND, Case
from .contour import contours
from .oval import ovals
from .sector import Sector
from .spots import channel_spots
from .stand import does, find_stand

if TYPE_CHECKING:
    from ..arrays import Floats
    from .bore import Bore
    from .footprint import Footprint
    from .settings import CaseSettings

_DRAWN = {OVAL: ovals, CONTOUR: contours}
_WIDER = 1.1


def printed_case(
    kind: str, plan: Footprint, settings: CaseSettings, allowed: tuple[Sector, ...]
) -> Case | None:
    """Return the case of a printed kind that holds least, or None where none was found.

    Parameters
    ----------
    kind : str
        One of the printed kinds.
    plan : Footprint
        The master's.
    settings : CaseSettings
        Least rubber, rubber at the cut, least channel.
    allowed : tuple of Sector
        Where the back may lie, best first.
    """
    if kind == ROUND:
        return _round_case(plan, settings, allowed)
    rubber = swept(plan.corners, settings.least_rubber_mm + GROUND_MM)
    for sector in allowed:
        found = _drawn_case(kind, plan, rubber, settings, sector)
        if found is not None:
            return found
    return None


def _drawn_case(
    kind: str, plan: Footprint, rubber: Floats, settings: CaseSettings, sector: Sector
) -> Case | None:
    """Return the outline that holds least; where the cut lacks rubber, with a wider channel."""
    radius_mm = settings.least_channel_mm / 2.0 + GROUND_MM
    for _ in range(PRINTED_WIDENINGS):
        for narrower in _narrowed(sector):
            spots = channel_spots(plan, radius_mm, narrower)
            drawn = _DRAWN[kind](rubber, spots, radius_mm) if len(spots) else iter(())
            for outline, spot in itertools.islice(drawn, LIKELY_SPOTS):
                stand, bore = stand_in(plan, outline, spot)
                if does(stand, settings) and sector.holds(stand.back[None])[0]:
                    name = Sentence(f"{kind} case {_size_text(bore)}")
                    return Case(name, kind, bore, settings.printed_wall_mm, stand)
        radius_mm *= _WIDER
    return None


def _narrowed(sector: Sector) -> tuple[Sector, ...]:
    """Return where to look for a channel: its way from the axis is known only of a drawn case."""
    if sector.half_deg >= 180.0:
        return (sector,)
    shares = (1.0, 0.7, 0.4)
    return tuple(Sector(sector.middle_deg, share * sector.half_deg) for share in shares)


def _size_text(bore: Bore) -> str:
    wide, deep = np.ptp(bore.outline_mm, axis=0)
    return some_lengths((wide, deep), " x ")


def _round_case(plan: Footprint, settings: CaseSettings, allowed: tuple[Sector, ...]) -> Case:
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
    name = Sentence(f"{ROUND} case {a_length(inner_mm, 'g')}")
    return Case(name, ROUND, round_bore(inner_mm), settings.printed_wall_mm, found)
