"""The leans that were looked at as a map: by how far, and towards where as the bench tells it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import HOUR_DEG

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from .result import Lean

HALF_UP = 0.5 + 1e-6
"""Rounds all halves one way, digits that float about included, or two leans would share an hour."""


def turned_deg(direction_deg: float, placement: Floats) -> float:
    """Return a direction, counter-clockwise from +x of the scan frame, as one of the job frame.

    Examples
    --------
    >>> quarter = np.array([[0.0, -1, 0, 0], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])
    >>> turned_deg(300.0, quarter)
    30.0
    """
    turn_deg = np.degrees(np.arctan2(placement[1, 0], placement[0, 0]))
    return float((direction_deg + turn_deg) % 360.0)


def hour_of(towards_deg: float) -> int:
    """Return the hour, 1 to 12, of a direction of the job frame; the channel, +y, is at 12.

    A turn about the case is told by the clock as seen from above: at the bench there are a tube and
    its channel, and no axis of the scan.

    Examples
    --------
    >>> hour_of(90.0), hour_of(0.0), hour_of(270.0)
    (12, 3, 6)
    """
    from_channel_deg = 90.0 - towards_deg  # the clock goes the other way
    return (int(np.floor(from_channel_deg / HOUR_DEG + HALF_UP)) - 1) % 12 + 1


def direction_of(hour: int) -> float:
    """Return the direction of an hour in the job frame, counter-clockwise from +x, in degrees.

    Examples
    --------
    >>> direction_of(12), direction_of(3), direction_of(6)
    (90.0, 0.0, 270.0)
    """
    return float((90.0 - HOUR_DEG * hour) % 360.0)


@dataclass(frozen=True, eq=False)
class LeanGrid:
    """What each lean traps: ``trapped_ml`` (r, c) by ``degrees`` (r,) and ``towards_deg`` (c,).

    Directions are those of the job frame, both in ascending order.
    """

    degrees: Floats
    towards_deg: Floats
    trapped_ml: Floats


def lean_grid(leans: Sequence[Lean], placement: Floats) -> LeanGrid:
    """Return the map of some leans that were looked at in the same directions each.

    Parameters
    ----------
    leans : sequence of Lean
        In the scan frame.
    placement : ndarray, shape (4, 4)
        Brings the scan frame into the job frame.
    """
    degrees, row = np.unique([one.degrees for one in leans], return_inverse=True)
    turned = [round(turned_deg(one.towards_deg, placement), 6) % 360.0 for one in leans]
    towards, column = np.unique(turned, return_inverse=True)
    trapped = np.full((len(degrees), len(towards)), np.nan)
    trapped[row, column] = [one.trapped_ml for one in leans]
    return LeanGrid(degrees, towards, trapped)
