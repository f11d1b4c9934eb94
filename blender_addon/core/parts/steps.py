"""Seams between rings that stand on each other: a skirt above, a slope below, flat lands inside.

The inner half of the wall stands flat on flat, so that the rubber's block shows no more than a
line. The outer half is a skirt of the upper ring that reaches down over a slope of the lower one
and centres it. Printed upside down, nothing of it overhangs.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..constants.funnel import CONE_FROM_UPRIGHT_DEG
from ..constants.parts import LEAST_LAND_MM, SKIRT_TIP_MM
from .outlines import swept

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats

_LEAN = math.radians(CONE_FROM_UPRIGHT_DEG)


def step_wide_mm(wall_mm: float, fit_mm: float) -> float:
    """Return how much of the wall the skirt takes; 0 where the wall is too thin for a step.

    Examples
    --------
    >>> step_wide_mm(4.0, 0.3), step_wide_mm(1.0, 0.3)
    (2.0, 0.0)
    """
    wide = min(wall_mm / 2.0, wall_mm - fit_mm / math.cos(_LEAN) - LEAST_LAND_MM / 2.0)
    return wide if wide > 2.0 * SKIRT_TIP_MM else 0.0


def step_deep_mm(wall_mm: float, fit_mm: float) -> float:
    """Return how far the skirt reaches down.

    Examples
    --------
    >>> round(step_deep_mm(4.0, 0.3), 3)
    1.668
    """
    wide = step_wide_mm(wall_mm, fit_mm)
    return (wide - SKIRT_TIP_MM) / math.tan(_LEAN) if wide else 0.0


def skirt(bore: Floats, wall_mm: float, fit_mm: float, z_mm: float) -> manifold3d.Manifold:
    """Return the ring that the skirt of a piece is cut from; it goes on a little above ``z_mm``."""
    wide, deep = step_wide_mm(wall_mm, fit_mm), step_deep_mm(wall_mm, fit_mm)
    inner = wall_mm - wide
    return swept(
        bore,
        [
            (wall_mm - SKIRT_TIP_MM, z_mm - deep),
            (wall_mm, z_mm - deep),
            (wall_mm, z_mm + deep),
            (inner, z_mm + deep),
            (inner, z_mm),
        ],
    )


def slope(bore: Floats, wall_mm: float, fit_mm: float, z_mm: float) -> manifold3d.Manifold:
    """Return the ring to cut off the lower piece: the skirt with the fit all round, to a point."""
    wide = step_wide_mm(wall_mm, fit_mm)
    inner = wall_mm - wide - fit_mm / math.cos(_LEAN)
    outer = wall_mm + fit_mm
    point = z_mm - (outer - inner) / math.tan(_LEAN)
    return swept(bore, [(inner, z_mm), (outer, point), (outer, z_mm + 1.0), (inner, z_mm + 1.0)])
