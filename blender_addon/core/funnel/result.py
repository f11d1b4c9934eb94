"""What the funnel stage hands on: the funnel's measures in the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .bowl import CONE_SPREAD

if TYPE_CHECKING:
    from ..notices import Notice


@dataclass(frozen=True)
class FunnelResult:
    """A funnel of turned shape about the vertical line at ``at_mm``.

    From below: a throat (inner diameter ``throat_mm``) from ``throat_bottom_z_mm`` to
    ``cone_z_mm``, a cone that opens steeper than 45 degrees to inner diameter ``bowl_mm`` at
    ``bowl_z_mm``, and a straight wall up to ``top_z_mm``. ``throat_length_mm`` is the straight part
    that resists the flow; ``bowl_ml`` is what cone and straight wall hold, brim full.
    """

    at_mm: tuple[float, float]
    throat_mm: float
    throat_bottom_z_mm: float
    cone_z_mm: float
    bowl_mm: float
    top_z_mm: float
    wall_mm: float
    throat_length_mm: float
    throat_area_cm2: float
    bowl_ml: float
    height_mm: float
    warnings: tuple[Notice, ...] = ()

    @property
    def bowl_z_mm(self) -> float:
        """Where the cone ends and the straight wall begins."""
        return self.cone_z_mm + (self.bowl_mm - self.throat_mm) / 2.0 / CONE_SPREAD
