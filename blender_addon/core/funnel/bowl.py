"""The bowl over the throat: a cone that prints without supports, and a straight wall on it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scipy.optimize import brentq

from ..constants.funnel import BOWL_LIP_MM, BOWL_STRAIGHT_SHARE, CONE_FROM_UPRIGHT_DEG
from ..units import ML_PER_MM3

if TYPE_CHECKING:
    from ..geometry.convex import Spread

CONE_SPREAD = math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))


@dataclass(frozen=True)
class Bowl:
    """How far its wall stands out from the throat's, heights of cone and straight wall, volume."""

    spread_mm: float
    cone_mm: float
    straight_mm: float
    holds_ml: float


def cone_mm3(throat: Spread, spread_mm: float) -> float:
    """Return what a cone holds that opens from an outline until it is spread so far: Steiner.

    Examples
    --------
    >>> import numpy as np
    >>> from blender_addon.core.geometry.convex import spread_of
    >>> square = spread_of(np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]]))
    >>> round(cone_mm3(square, 10.0) * CONE_SPREAD, 3)  # a cut pyramid, 20 to 40 wide, 10 high
    9333.333
    """
    still, girth, turn = throat.growth
    s = spread_mm
    return (still * s + girth * s**2 / 2.0 + turn * s**3 / 3.0) / CONE_SPREAD


def bowl_over(throat: Spread, bowl_ml: float, least_spread_mm: float) -> Bowl:
    """Return the bowl that holds what is asked; more where it must reach over the rim.

    Parameters
    ----------
    throat : Spread
        Inner outline that the cone starts from.
    bowl_ml : float
        What it should hold.
    least_spread_mm : float
        How far it must reach to cover the hook.

    Examples
    --------
    >>> import numpy as np
    >>> from blender_addon.core.geometry.convex import spread_of
    >>> square = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]])
    >>> round(bowl_over(spread_of(square), 300.0, 20.0).holds_ml, 6)
    300.0
    """
    asked_mm3 = bowl_ml / ML_PER_MM3

    def missing_mm3(spread: float) -> float:
        wall_mm3 = throat.area_mm2(spread) * _straight_mm(throat, spread)
        return asked_mm3 - cone_mm3(throat, spread) - wall_mm3

    spread = least_spread_mm
    if missing_mm3(spread) > 0.0:
        wide = spread + 2.0 * asked_mm3 ** (1.0 / 3.0)
        spread = float(brentq(missing_mm3, spread, wide, xtol=1e-12, rtol=1e-14))
    area, cone = throat.area_mm2(spread), cone_mm3(throat, spread)
    straight = max((asked_mm3 - cone) / area, BOWL_LIP_MM)
    return Bowl(spread, spread / CONE_SPREAD, straight, (cone + area * straight) * ML_PER_MM3)


def _straight_mm(throat: Spread, spread_mm: float) -> float:
    """Return the height of the straight wall: a share of the radius of a round bowl as wide."""
    return BOWL_STRAIGHT_SHARE * math.sqrt(throat.area_mm2(spread_mm) / math.pi)
