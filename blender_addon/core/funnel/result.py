"""What the funnel stage hands on: the funnel's measures in the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..notices import Notice


@dataclass(frozen=True)
class FunnelResult:
    """A funnel of turned shape about the vertical line at ``at_mm``.

    From below: a throat (inner diameter ``throat_mm``) from ``throat_bottom_z_mm`` to ``cone_z_mm``, a
    cone that opens at 45 degrees or steeper up to inner diameter ``bowl_mm`` at ``top_z_mm``.
    ``throat_length_mm`` is the straight part that resists the flow.
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
