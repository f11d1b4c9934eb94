"""The print bed: does a part fit it, and how is it turned to fit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..constants.parts import BED_EDGE_MM, BED_TURN_DEG
from ..geometry.hull import hull_corners

if TYPE_CHECKING:
    from ..arrays import Floats
    from .settings import PartsSettings


@dataclass(frozen=True)
class Bed:
    """What a printer prints, in mm."""

    x_mm: float
    y_mm: float
    z_mm: float

    def turn_deg(self, plan: Floats) -> float | None:
        """Return by how much to turn points (n, 2) about the vertical so that they fit the bed.

        The first of no turn, a quarter turn, the turns that lay a side along the bed, and small
        steps; None if no turn does.

        Examples
        --------
        >>> bar = np.array([[0.0, 0.0], [90.0, 0.0], [90.0, 10.0], [0.0, 10.0]])
        >>> Bed(100.0, 50.0, 50.0).turn_deg(bar), Bed(50.0, 100.0, 50.0).turn_deg(bar)
        (0.0, 90.0)
        >>> Bed(75.0, 75.0, 50.0).turn_deg(bar), Bed(70.0, 70.0, 50.0).turn_deg(bar)
        (45.0, None)
        """
        turns, over_mm = self._turned(plan)
        fits = over_mm <= GROUND_MM
        return float(turns[np.argmax(fits)]) if fits.any() else None

    def nearest_turn_deg(self, plan: Floats) -> float:
        """Return the first turn with which points (n, 2) fit, or stand out over the edge least.

        Turns that differ by a length that counts as zero are as good as each other.

        Examples
        --------
        >>> bar = np.array([[0.0, 0.0], [90.0, 0.0], [90.0, 10.0], [0.0, 10.0]])
        >>> Bed(50.0, 80.0, 50.0).nearest_turn_deg(bar), Bed(80.0, 50.0, 50.0).nearest_turn_deg(bar)
        (60.0, 30.0)
        """
        turns, over_mm = self._turned(plan)
        good = over_mm <= max(float(over_mm.min()), 0.0) + GROUND_MM
        return float(turns[np.argmax(good)])

    def over_mm(self, size_mm: tuple[float, float, float]) -> float:
        """Return by how much a box along its sides is too large, 0 where the bed has room for it.

        Examples
        --------
        >>> Bed(220.0, 220.0, 250.0).over_mm((300.0, 100.0, 260.0))
        80.0
        >>> Bed(220.0, 220.0, 250.0).over_mm((220.02, 100.0, 250.0))
        0.0
        """
        have = (self.x_mm, self.y_mm, self.z_mm)
        over = max(one - room for one, room in zip(size_mm, have, strict=True))
        return over if over >= BED_EDGE_MM else 0.0

    def _turned(self, plan: Floats) -> tuple[Floats, Floats]:
        """Return the turns that are tried, and how far the points then stand out over an edge."""
        corners = hull_corners(plan)
        sides = np.roll(corners, -1, axis=0) - corners
        along = -np.degrees(np.arctan2(sides[:, 1], sides[:, 0]))
        turns = np.concatenate([[0.0, 90.0], along, np.arange(0.0, 180.0, BED_TURN_DEG)])
        cos, sin = np.cos(np.radians(turns))[:, None], np.sin(np.radians(turns))[:, None]
        wide = np.ptp(cos * corners[:, 0] - sin * corners[:, 1], axis=1)
        deep = np.ptp(sin * corners[:, 0] + cos * corners[:, 1], axis=1)
        return turns, np.maximum(wide - self.x_mm, deep - self.y_mm)


def bed_of(settings: PartsSettings) -> Bed:
    """Return the bed that is set."""
    return Bed(settings.bed_x_mm, settings.bed_y_mm, settings.bed_z_mm)
