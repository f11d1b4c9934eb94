"""The flanges that bolt the halves together: from where to where, and where their bolts go."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants import FLANGE_FOOT_MM, WASHER_BY_BOLT
from ..errors import BadSettingError
from ..units import length_text

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .settings import PartsSettings


@dataclass(frozen=True)
class Flanges:
    """Heights along the case, the bolts' distance from its axis, and the width of their holes."""

    low_mm: float
    high_mm: float
    bolt_x_mm: float
    bolt_z_mm: tuple[float, ...]
    hole_mm: float


def flanges_of(case: CaseResult, settings: PartsSettings) -> Flanges:
    """Return the flanges of a case, with as few bolts as the pitch allows.

    Raises
    ------
    BadSettingError
        If bolt and washer find no room, or the flange none beside the bore.
    """
    outer = case.inner_diameter_mm / 2.0 + case.wall_mm
    washer = WASHER_BY_BOLT * settings.bolt_mm
    length = case.height_mm - FLANGE_FOOT_MM
    if settings.flange_mm < washer:
        message = (
            f"{settings.flange_mm:g} mm is too narrow for an M{settings.bolt_mm:g} bolt with its"
            f" washer: {length_text(washer)}. Take wider flanges or thinner bolts."
        )
        raise BadSettingError("parts.flange_mm", message)
    if settings.flange_thickness_mm > outer / 2.0:
        message = (
            f"{settings.flange_thickness_mm:g} mm is too thick for a case of"
            f" {length_text(2.0 * outer)} across. Take at most {length_text(outer / 2.0)}."
        )
        raise BadSettingError("parts.flange_thickness_mm", message)
    if length < washer:
        message = (
            f"the case is only {length_text(case.height_mm)} high: over the board's rim there is no"
            f" room for an M{settings.bolt_mm:g} bolt and its washer ({length_text(washer)}). Take"
            " a thinner bolt, or more case.cover_mm or case.freeboard_mm."
        )
        raise BadSettingError("parts.bolt_mm", message)
    return Flanges(
        low_mm=FLANGE_FOOT_MM,
        high_mm=case.height_mm,
        bolt_x_mm=outer + settings.flange_mm / 2.0,
        bolt_z_mm=bolt_heights(FLANGE_FOOT_MM, case.height_mm, washer, settings.bolt_pitch_mm),
        hole_mm=settings.bolt_mm + 2.0 * settings.fit_mm,
    )


def bolt_heights(
    low_mm: float, high_mm: float, washer_mm: float, pitch_mm: float
) -> tuple[float, ...]:
    """Return evenly spaced heights, no further apart than the pitch, a washer's width off the ends.

    A flange too short for two bolts has one in the middle.

    Examples
    --------
    >>> bolt_heights(0.0, 140.0, 10.0, 60.0)
    (10.0, 70.0, 130.0)
    >>> bolt_heights(0.0, 24.0, 10.0, 60.0)
    (12.0,)
    """
    span = high_mm - low_mm - 2.0 * washer_mm
    if span < washer_mm:
        return ((low_mm + high_mm) / 2.0,)
    gaps = max(math.ceil(span / pitch_mm - 1e-9), 1)
    return tuple(low_mm + washer_mm + span * k / gaps for k in range(gaps + 1))
