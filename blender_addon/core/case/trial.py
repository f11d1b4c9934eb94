"""A round bore tried with the master in it, and what a stand in it gives."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..geometry.plan import edge_distances_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from .footprint import Footprint
    from .room import Room
    from .settings import CaseSettings


@dataclass(frozen=True, eq=False)
class Stand:
    """In the plan of the scan: where the axis passes, which way the back lies, what that gives.

    ``behind_mm`` is the distance of the master from the bore's line at the back, in plan.
    """

    axis: Floats
    back: Floats
    channel_at: Floats
    channel_mm: float
    behind_mm: float
    least_rubber_mm: float


@dataclass(frozen=True, eq=False)
class Trial:
    """A round bore of radius ``radius_mm``; its axis may pass anywhere in ``room``."""

    plan: Footprint
    room: Room
    radius_mm: float
    settings: CaseSettings

    def stand(self, axis: Floats, back: Floats, at: Floats) -> Stand:
        """Measure a stand against every edge of the shadow: axis, unit vector to the back, drop."""
        spots = np.stack([at, axis + self.radius_mm * back])
        off, behind = edge_distances_mm(spots, self.plan.edges)
        to_bore = self.radius_mm - np.linalg.norm(at - axis)
        farthest = np.linalg.norm(self.plan.corners - axis, axis=1).max()
        return Stand(
            axis=axis,
            back=back,
            channel_at=at,
            channel_mm=2.0 * (min(float(off), float(to_bore)) - GROUND_MM),
            behind_mm=float(behind),
            least_rubber_mm=self.radius_mm - float(farthest),
        )
