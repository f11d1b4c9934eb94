"""What the funnel stage hands on: the funnel's measures in the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import locked
from ..geometry.convex import Spread, spread_of
from .bowl import CONE_SPREAD

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..notices import Notice


@dataclass(frozen=True, eq=False)
class FunnelResult:
    """A throat of the channel's own shape, a cone that opens from it, and a straight wall.

    ``throat_outline_mm`` (k, 2) is the inside of the throat in plan: convex, counter-clockwise, its
    corners rounded; ``at_mm`` is its middle, ``way_to_wall`` a unit vector outward. It holds the
    channel's disc. The throat goes from ``throat_bottom_z_mm`` to ``cone_z_mm``; below the rim the
    case is its back wall, and what hangs of its own wall ends ``clearance_mm`` off the case. From
    ``cone_z_mm`` all sides open by the same angle, steeper than 45 degrees, until they stand
    ``spread_mm`` further out at ``bowl_z_mm``; a straight wall goes on to ``top_z_mm``.

    ``throat_mm`` is the diameter of the round throat that passes as much, ``throat_length_mm`` the
    straight part that resists the flow, ``bowl_mm`` the widest across the inside of the bowl, and
    ``bowl_ml`` what cone and straight wall hold, brim full.
    """

    at_mm: tuple[float, float]
    way_to_wall: tuple[float, float]
    throat_outline_mm: Floats
    throat_mm: float
    throat_bottom_z_mm: float
    cone_z_mm: float
    spread_mm: float
    bowl_mm: float
    top_z_mm: float
    wall_mm: float
    throat_length_mm: float
    throat_area_cm2: float
    bowl_ml: float
    height_mm: float
    clearance_mm: float = 0.0
    warnings: tuple[Notice, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "throat_outline_mm", locked(self.throat_outline_mm, np.float64))

    @property
    def bowl_z_mm(self) -> float:
        """Where the cone ends and the straight wall begins."""
        return self.cone_z_mm + self.spread_mm / CONE_SPREAD

    @cached_property
    def spread(self) -> Spread:
        """How the throat's outline opens: ``spread.ring(wall_mm)`` is the throat's outside."""
        return spread_of(self.throat_outline_mm)
