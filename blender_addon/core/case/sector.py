"""Which way the back of the case may look."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import BACK_STEP_DEG
from ..constants.common import GROUND_MM

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..arrays import Bools, Floats


def unit_vectors(degrees: npt.ArrayLike) -> Floats:
    """Return unit vectors (..., 2) at angles counter-clockwise from +x.

    Examples
    --------
    >>> unit_vectors([0.0, 90.0]).round(9).tolist()
    [[1.0, 0.0], [0.0, 1.0]]
    """
    angles = np.radians(degrees)
    return np.stack([np.cos(angles), np.sin(angles)], axis=-1)


@dataclass(frozen=True)
class Sector:
    """Backs no farther than ``half_deg`` from ``middle_deg``; 180 allows all."""

    middle_deg: float = 0.0
    half_deg: float = 180.0

    def holds(self, ways: Floats) -> Bools:
        """Return which of the unit vectors (n, 2) point into the sector."""
        cosine = ways @ unit_vectors(np.array(self.middle_deg))
        holds: Bools = cosine >= np.cos(np.radians(self.half_deg)) - GROUND_MM
        return holds

    def degrees(self) -> Floats:
        """Return directions all over the sector."""
        steps = int(np.ceil(2.0 * self.half_deg / BACK_STEP_DEG)) + 1
        return self.middle_deg + np.linspace(-self.half_deg, self.half_deg, steps)

    def inside(self, degrees: Floats) -> Floats:
        """Return directions with those beyond the sector brought to its border."""
        if self.half_deg >= 180.0:
            return degrees
        return np.clip(degrees, self.middle_deg - self.half_deg, self.middle_deg + self.half_deg)
