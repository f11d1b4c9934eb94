"""The bolts or clips that close the seams: which, how many, and at which heights."""

from __future__ import annotations

import math

from ..constants.parts import BOLT_HOLES_MM, LEAST_LAND_MM, WASHERS_MM


def hole_mm(bolt: str) -> float:
    """Return the width of the clearance hole of a bolt.

    Examples
    --------
    >>> hole_mm("M4")
    4.5
    """
    return BOLT_HOLES_MM[bolt]


def washer_mm(bolt: str) -> float:
    """Return the room that a plain washer needs: its diameter and a little air all round.

    Examples
    --------
    >>> washer_mm("M4")
    10.6
    """
    return WASHERS_MM[bolt] + 2.0 * LEAST_LAND_MM


def heights(low_mm: float, high_mm: float, room_mm: float, pitch_mm: float) -> tuple[float, ...]:
    """Return evenly spaced heights, no further apart than the pitch, a room's width off the ends.

    Parameters
    ----------
    low_mm, high_mm : float
        The flange.
    room_mm : float
        What a washer or a clip takes.
    pitch_mm : float
        The greatest distance from one to the next.

    Examples
    --------
    >>> heights(0.0, 140.0, 10.0, 60.0)
    (10.0, 70.0, 130.0)
    >>> heights(0.0, 24.0, 10.0, 60.0)
    (12.0,)
    """
    span = high_mm - low_mm - 2.0 * room_mm
    if span < room_mm:
        return ((low_mm + high_mm) / 2.0,)
    gaps = max(math.ceil(span / pitch_mm - 1e-9), 1)
    return tuple(low_mm + room_mm + span * k / gaps for k in range(gaps + 1))
