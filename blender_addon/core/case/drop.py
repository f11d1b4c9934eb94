"""Clear drops: vertical discs that touch neither the master, at any height, nor the bore."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import AXIS_STEPS, DROP_ROUNDS, DROP_SEEDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Bools, Floats
    from ..geometry.clearance import Clearance
    from .room import Room

_SHIFTS = np.stack(np.meshgrid(*[np.linspace(-1.0, 1.0, 7)] * 2), axis=-1).reshape(-1, 2)
_TURNS = np.linspace(-1.0, 1.0, 9)
_SHRINK = 0.6


@dataclass(frozen=True, eq=False)
class Drops:
    """Drops about ``at`` (n, 2) when the bore's axis passes ``axis`` (n, 2), as the raster tells.

    ``back`` (n, 2) is the way from axis to drop, ``behind_mm`` (n,) the distance of the shadow from
    where the bore lies that way.
    """

    at: Floats
    axis: Floats
    back: Floats
    radius_mm: Floats
    behind_mm: Floats

    def chosen(self, which: Bools) -> Drops:
        """Return some of them."""
        return Drops(*(getattr(self, name)[which] for name in self.__dataclass_fields__))

    def seeds(self, cell_mm: float) -> Iterator[tuple[Floats, Floats]]:
        """Yield drop and axis of the widest ones that lie apart: where it pays to look closely."""
        left = self.chosen(self.radius_mm >= self.radius_mm.max(initial=0.0) - 2.0 * cell_mm)
        for _ in range(DROP_SEEDS):
            if not len(left.at):
                return
            best = int(left.radius_mm.argmax())
            yield left.at[best], left.axis[best]
            apart = max(left.radius_mm[best] / 2.0, 4.0 * cell_mm)
            left = left.chosen(np.linalg.norm(left.at - left.at[best], axis=1) > apart)


def all_drops(room: Room, ground: Clearance, bore_mm: float, least_mm: float) -> Drops:
    """Return the drops of at least a radius, one a cell, each with the axis as near as it may be.

    The bore's radius less the distance from the axis, and the distance from the shadow, both bound
    a drop. Those that may reach the least within the raster's error are kept.
    """
    slack = 1.5 * ground.pitch_mm
    at, off = ground.open_middles(least_mm - slack)
    near = np.linalg.norm(at - room.middle, axis=1) <= 2.0 * bore_mm - least_mm + slack
    at, off = at[near], off[near]
    axis = room.nearest(at, AXIS_STEPS)
    radius = np.minimum(bore_mm - np.linalg.norm(at - axis, axis=1), off)
    keep = radius >= least_mm - slack
    at, axis, radius = at[keep], axis[keep], radius[keep]
    way = np.where((at == axis).all(axis=1)[:, None], at - room.middle, at - axis)
    back = way / np.maximum(np.linalg.norm(way, axis=1), np.finfo(float).tiny)[:, None]
    return Drops(at, axis, back, radius, ground.about_mm(axis + bore_mm * back))


def widened(
    at: Floats, axis: Floats, room: Room, ground: Clearance, bore_mm: float
) -> tuple[Floats, Floats]:
    """Return drop and axis moved to the widest drop nearby: ever finer grids about the best so far."""
    span = 2.0 * ground.pitch_mm
    rim = ground.rim_near(at, 8.0 * span)
    angle = float(np.arctan2(*(axis - room.middle)[::-1]))
    turn = min(np.pi, 2.0 * span / max(float(np.linalg.norm(axis - room.middle)), span / 2.0))
    for _ in range(DROP_ROUNDS):
        spots, angles = at + span * _SHIFTS, angle + turn * _TURNS
        edge = room.edge(angles)
        gaps = np.linalg.norm(spots[:, None] - edge, axis=2)
        nearest = gaps.argmin(axis=1)
        inside = room.holds(spots)
        gap = np.where(inside, 0.0, gaps[np.arange(len(spots)), nearest])
        radius = np.minimum(bore_mm - gap, ground.exact_mm(spots, rim))
        best = int(radius.argmax())
        at, angle = spots[best], float(angles[nearest[best]])
        axis = at if inside[best] else edge[nearest[best]]
        if np.abs(_SHIFTS[best]).max() < 1.0:
            span *= _SHRINK
        if 0 < nearest[best] < len(_TURNS) - 1 or inside[best]:
            turn *= _SHRINK
    return at, axis
