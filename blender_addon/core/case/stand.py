"""Where the master stands in a bore: pushed off its middle for the widest clear drop at the back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import (
    BACK_STEPS,
    CELLS_IN_CHANNEL,
    FEWEST_CASE_CELLS,
    GROUND_MM,
    MOST_CASE_CELLS,
)
from ..geometry.clearance import Clearance, clearance
from ..geometry.plan import edge_distances_mm
from .drop import all_drops, widened
from .room import Room

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ..arrays import Bools, Floats
    from .footprint import Footprint
    from .settings import CaseSettings


@dataclass(frozen=True)
class Sector:
    """Backs no farther than ``half_deg`` from ``middle_deg``; 180 allows all."""

    middle_deg: float = 0.0
    half_deg: float = 180.0

    def holds(self, directions: Floats) -> Bools:
        """Return which of the unit vectors (n, 2) point into the sector."""
        angle = np.radians(self.middle_deg)
        cosine = directions @ np.array([np.cos(angle), np.sin(angle)])
        holds: Bools = cosine >= np.cos(np.radians(self.half_deg)) - GROUND_MM
        return holds

    def directions(self) -> Floats:
        """Return unit vectors (n, 2) all over the sector."""
        degrees = self.middle_deg + np.linspace(-self.half_deg, self.half_deg, BACK_STEPS)
        return np.column_stack([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])


@dataclass(frozen=True, eq=False)
class Stand:
    """In the plan of the scan: where the axis passes, which way the back lies, what that gives."""

    axis: Floats
    back: Floats
    channel_at: Floats
    channel_mm: float
    behind_mm: float
    least_rubber_mm: float


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
    A drop at a point is as wide as twice the lesser of its distance from the shadow and from the bore,
    and the bore is farthest when the axis passes as near to the point as the rubber allows. So the
    widest drop over all stands is looked for among the points of the plan, not among directions.
    """
    reach = bore_mm - settings.least_rubber_mm - GROUND_MM
    if reach < plan.radius_mm:
        return None
    half = 2.0 * bore_mm - plan.radius_mm
    cells = int(2.0 * half / settings.least_channel_mm * CELLS_IN_CHANNEL)
    cells = min(max(cells, FEWEST_CASE_CELLS), MOST_CASE_CELLS)
    ground = clearance(plan.edges, plan.middle, half, cells)
    bore = _Bore(plan, Room(plan.corners, plan.middle, reach), ground, bore_mm, settings)
    drops = all_drops(bore.room, ground, bore_mm, settings.least_channel_mm / 2.0)
    for sector in sectors:
        here = drops.chosen(sector.holds(drops.back))
        for slack in (1.5, -1.5):
            cut_mm = settings.cut_rubber_mm - slack * ground.pitch_mm
            seeds = here.chosen(here.behind_mm >= cut_mm).seeds(ground.pitch_mm)
            wide = (widened(*seed, bore.room, ground, bore_mm) for seed in seeds)
            if found := bore.best(wide, sector):
                return found
        if found := bore.best(bore.plain(sector), sector):
            return found
    return None


@dataclass(frozen=True, eq=False)
class _Bore:
    plan: Footprint
    room: Room
    ground: Clearance
    radius_mm: float
    settings: CaseSettings

    def best(self, drops: Iterable[tuple[Floats, Floats]], sector: Sector) -> Stand | None:
        stands = [self.stand(at, axis, sector) for at, axis in drops]
        good = [
            one
            for one in stands
            if one.channel_mm >= self.settings.least_channel_mm
            and one.behind_mm >= self.settings.cut_rubber_mm
        ]
        return max(good, key=lambda one: one.channel_mm, default=None)

    def plain(self, sector: Sector) -> Iterable[tuple[Floats, Floats]]:
        """Return drops behind the circle round the master, which no bay makes wider."""
        ways = sector.directions()
        axes = self.room.middle + (self.room.reach_mm - self.plan.radius_mm) * ways
        half_gap = self.radius_mm - self.plan.radius_mm - self.settings.least_rubber_mm / 2.0
        return zip(axes + (self.radius_mm - half_gap) * ways, axes, strict=True)

    def stand(self, at: Floats, axis: Floats, sector: Sector) -> Stand:
        """Measure one exactly; where the bay is the limit, more rubber is left at the front."""
        off = float(self.ground.exact_mm(at[None], self.plan.edges)[0])
        radius = min(self.radius_mm - float(np.linalg.norm(at - axis)), off)
        axes = axis + np.linspace(0.0, 1.0, BACK_STEPS)[:, None] * (self.room.middle - axis)
        backs = self._backs(at, axes, sector)
        behind = edge_distances_mm(axes + self.radius_mm * backs, self.ground.rim)
        free = np.linalg.norm(at - axes, axis=1) <= self.radius_mm - radius + GROUND_MM**2
        free &= (behind >= min(behind[0], self.settings.cut_rubber_mm)) & sector.holds(backs)
        last = int(np.argmin(np.append(free[1:], False)))
        farthest = np.linalg.norm(self.plan.corners - axes[last], axis=1).max()
        wall = (axes[last] + self.radius_mm * backs[last])[None]
        return Stand(
            axis=axes[last],
            back=backs[last],
            channel_at=at,
            channel_mm=2.0 * (radius - GROUND_MM),
            behind_mm=float(edge_distances_mm(wall, self.plan.edges)[0]),
            least_rubber_mm=self.radius_mm - float(farthest),
        )

    def _backs(self, at: Floats, axes: Floats, sector: Sector) -> Floats:
        """Return the way from each axis to the drop; where they are one, the widest way."""
        way = at - axes
        far = np.linalg.norm(way, axis=1)
        ways = sector.directions()
        off = edge_distances_mm(at + self.radius_mm * ways, self.ground.rim)
        backs: Floats = np.where(
            far[:, None] > GROUND_MM, way / np.maximum(far, GROUND_MM)[:, None], ways[off.argmax()]
        )
        return backs
