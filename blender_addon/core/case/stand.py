"""Where the master stands in a bore: off its middle, for the widest clear drop at the back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.case import WORTH_MM
from ..constants.common import GROUND_MM
from .drop import at_wall, in_bays
from .polish import polished
from .room import Room
from .trial import Stand, Trial

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from .footprint import Footprint
    from .sector import Sector
    from .settings import CaseSettings


def find_stand(
    plan: Footprint, bore_mm: float, settings: CaseSettings, sectors: Iterable[Sector]
) -> Stand | None:
    """Return the stand with the widest channel in a bore, or None where the master does not fit.

    Parameters
    ----------
    plan : Footprint
        Of the master.
    bore_mm : float
        Inner radius of the case.
    settings : CaseSettings
        Least rubber, rubber at the cut, least channel.
    sectors : iterable of Sector
        Where the back may lie; the first in which it can is taken.

    Notes
    -----
    The widest drop either touches the bore, or lies in a bay that nothing from outside bounds. If
    it touches the bore where b points out, no axis is better for it than the one farthest along b:
    so one direction is all there is to look for. Where the rubber at the cut would be too thin
    there, other axes are tried as well.
    """
    reach = bore_mm - settings.least_rubber_mm - GROUND_MM
    if reach < plan.radius_mm:
        return None
    trial = Trial(plan, Room(plan.corners, plan.middle, reach), bore_mm, settings)
    for sector in sectors:
        walls = list(at_wall(trial, sector, strict=False))
        bays = list(in_bays(trial, sector))
        if any(one.behind_mm < settings.cut_rubber_mm for one in (*bays, *walls)):
            walls += at_wall(trial, sector, strict=True)
            walls += _polished(trial, sector, walls)
        good = [one for one in (*bays, *walls) if does(one, settings)]
        if good:
            return max(good, key=_width)
    return None


def _polished(trial: Trial, sector: Sector, stands: Sequence[Stand]) -> list[Stand]:
    """Return stands near the best whose rubber at the cut just does, and near wider short ones."""
    good = [one for one in stands if does(one, trial.settings)]
    best = max(good, key=_width, default=None)
    least_mm = trial.settings.least_channel_mm if best is None else best.channel_mm + WORTH_MM
    short = [one for one in stands if one.channel_mm > least_mm and one not in good]
    starts = sorted(short, key=_width)[-2:]
    if best is not None and best.behind_mm < trial.settings.cut_rubber_mm + WORTH_MM:
        starts.append(best)
    return [polished(trial, sector, one) for one in starts]


def _width(stand: Stand) -> float:
    return stand.channel_mm


def does(stand: Stand, settings: CaseSettings) -> bool:
    """Tell whether a stand leaves all the rubber and the channel that were asked for."""
    return (
        stand.channel_mm >= settings.least_channel_mm
        and stand.behind_mm >= settings.cut_rubber_mm
        and stand.least_rubber_mm >= settings.least_rubber_mm
    )
