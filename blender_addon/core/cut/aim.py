"""Which way the blade points at each height: level, clear of the piece, turning little."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    AIM_LEVELS_MM,
    AIM_OFF_COST,
    AIM_SHUT_COST,
    AIM_SIDE_DEG,
    AIM_STEP_DEG,
    AIM_TURN_COST,
)

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..case.bore import Bore
    from ..geometry.sections import Sections


def aims(line: Floats, sections: Sections, bore: Bore, corridor_mm: float) -> Floats:
    """Return for each point of a line (n, 3), ascending, a level unit vector (n, 2) outward.

    Of all ways within some degrees of straight out from the bore's axis, the cheapest sequence:
    little of the piece beyond the point within the corridor, near to straight out, and little
    turning from height to height. Found by dynamic programming, so it is the best there is.

    Parameters
    ----------
    line : ndarray, shape (n, 3)
        On the piece.
    sections : Sections
        Of the piece on its riser.
    bore : Bore
        Inside of the case, outside of the block.
    corridor_mm : float
        To each side of the blade.
    """
    rows = _spaced(line[:, 2])
    turns = np.radians(np.arange(-AIM_SIDE_DEG, AIM_SIDE_DEG + 1e-9, AIM_STEP_DEG))
    ahead = np.unwrap(np.arctan2(line[:, 1], line[:, 0]))
    steady = float(np.median(ahead[rows]))
    cost = np.zeros((len(rows), len(turns)))
    for number, row in enumerate(rows.tolist()):
        level = int(np.argmin(np.abs(sections.heights_mm - line[row, 2])))
        points = sections.at(level)[:, 0]
        cost[number] = _blocked(line[row, :2], points, steady + turns, bore, corridor_mm)
        off = steady + turns - ahead[row]
        cost[number] += AIM_OFF_COST * (off**2 + turns**2)
    picked = steady + turns[_steadiest(cost, turns)]
    angle = np.interp(line[:, 2], line[rows, 2], picked)
    return np.column_stack([np.cos(angle), np.sin(angle)])


def _spaced(z: Floats) -> Ints:
    """Return rows at least a step apart in height, the ends among them."""
    kept = np.flatnonzero(np.diff(np.floor((z - z[0]) / AIM_LEVELS_MM), prepend=-1.0) > 0)
    return np.unique(np.append(kept, len(z) - 1))


def _blocked(at: Floats, points: Floats, angles: Floats, bore: Bore, corridor: float) -> Floats:
    """Return for each way (k,) what share of it to the wall lies beside or in the piece."""
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    reach = np.maximum(bore.reaches_mm(np.tile(at, (len(ways), 1)), ways), 1e-9)
    off = points - at
    along = off @ ways.T
    beside = np.abs(off @ np.column_stack([-ways[:, 1], ways[:, 0]]).T)
    rear = np.where(beside <= corridor, along, 0.0).max(axis=0, initial=0.0)
    hit = np.where(beside <= corridor / 8.0, along, 0.0).max(axis=0, initial=0.0)
    cost: Floats = rear / reach + AIM_SHUT_COST * np.clip(hit - corridor / 8.0, 0.0, None) / reach
    return cost


def _steadiest(cost: Floats, turns: Floats) -> Ints:
    """Return the cheapest column of each row (n, k) with the turns in between paid for."""
    turning = AIM_TURN_COST * (turns[:, None] - turns[None, :]) ** 2
    total, came = cost[0], np.zeros(cost.shape, dtype=np.int64)
    for row in range(1, len(cost)):
        step = total[None, :] + turning
        came[row] = step.argmin(axis=1)
        total = step.min(axis=1) + cost[row]
    way = [int(total.argmin())]
    for row in range(len(cost) - 1, 0, -1):
        way.append(int(came[row, way[-1]]))
    return np.array(way[::-1], dtype=np.int64)
