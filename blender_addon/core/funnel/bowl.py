"""The bowl over the throat: a cone that prints without supports, and a straight wall on it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..constants import BOWL_LIP_MM, BOWL_STRAIGHT_SHARE, CONE_FROM_UPRIGHT_DEG
from ..units import ML_PER_MM3

CONE_SPREAD = math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))


@dataclass(frozen=True)
class Bowl:
    """Inner measures: radius at the top, heights of cone and straight wall, and what they hold."""

    radius_mm: float
    cone_mm: float
    straight_mm: float
    holds_ml: float


def frustum_mm3(low_mm: float, high_mm: float, height_mm: float) -> float:
    """Return the volume of a cut cone between two radii.

    Examples
    --------
    >>> round(frustum_mm3(40.0, 20.0, 60.0), 2)
    175929.19
    """
    return math.pi * height_mm / 3.0 * (low_mm**2 + low_mm * high_mm + high_mm**2)


def bowl_over(throat_radius_mm: float, bowl_ml: float, least_radius_mm: float) -> Bowl:
    """Return the bowl that holds what is asked; more where it must reach over the rim.

    Parameters
    ----------
    throat_radius_mm : float
        Inner radius that the cone starts from.
    bowl_ml : float
        What it should hold.
    least_radius_mm : float
        Inner radius that it needs to cover the hook; more than the throat's.

    Examples
    --------
    >>> bowl = bowl_over(10.0, 300.0, 30.0)
    >>> round(bowl.holds_ml, 6), round(bowl.straight_mm / bowl.radius_mm, 6)
    (300.0, 0.5)
    """
    asked_mm3 = bowl_ml / ML_PER_MM3
    cone_part = 1.0 / (3.0 * CONE_SPREAD)  # volume of a whole cone by pi r^3
    whole_mm3 = asked_mm3 + math.pi * cone_part * throat_radius_mm**3
    radius = (whole_mm3 / (math.pi * (cone_part + BOWL_STRAIGHT_SHARE))) ** (1.0 / 3.0)
    radius = max(radius, least_radius_mm)
    cone_mm = (radius - throat_radius_mm) / CONE_SPREAD
    cone_mm3 = frustum_mm3(throat_radius_mm, radius, cone_mm)
    straight_mm = max((asked_mm3 - cone_mm3) / (math.pi * radius**2), BOWL_LIP_MM)
    holds_mm3 = cone_mm3 + math.pi * radius**2 * straight_mm
    return Bowl(radius, cone_mm, straight_mm, holds_mm3 * ML_PER_MM3)
