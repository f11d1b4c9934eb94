"""Back-filling the upturned mold in stages, and what is still to fill at a reading."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..constants.resin import FILL_TIP_SHARE
from ..geometry.volume_below import volume_below_ml
from ..rubber.weigh import batch_of
from ..units import KG_M3_TO_G_ML
from .reading import steps_mm
from .result import Fill
from .width import slab_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..catalog.sheets import ResinSheet
    from ..geometry.mesh import Mesh

HALVINGS = 30
"""Of the search for even fills: to a billionth of the limits."""


def fill_table(copy: Mesh) -> Floats:
    """Return what is still to fill of the copy when the resin stands so far below the rim.

    The mold stands upside down: the rim is z = 0, and deeper is higher up the piece.

    Parameters
    ----------
    copy : Mesh
        Closed, with the riser, down to z = 0.

    Returns
    -------
    ndarray, shape (n, 2)
        mm below the rim and ml, from (0, 0) to the whole copy; never less further down, also where
        the surface crosses itself and counts some of it as less than nothing.
    """
    depth = steps_mm(float(copy.bounds[1][2]))
    ml = volume_below_ml(copy, depth)
    ml[0] = 0.0
    return np.column_stack([depth, np.minimum(np.maximum.accumulate(ml), ml[-1])])


@dataclass(frozen=True, eq=False)
class FillLimits:
    """How heavy, how thick and how deep one fill may be.

    ``widths`` (n, 2), as `level_widths` returns them, tell how thick a fill is: a deep one in a
    narrow place cools as fast as a shallow one in a wide place.
    """

    most_g: float
    thick_mm: float
    deep_mm: float
    widths: Floats

    def part(self, share: float) -> FillLimits:
        """Return smaller limits."""
        return FillLimits(
            share * self.most_g, share * self.thick_mm, share * self.deep_mm, self.widths
        )

    def lowest_mm(self, start_mm: float) -> float:
        """Return up to where a fill from so far below the rim is no thicker than it may be."""
        near, far = self.widths[:-1, 0], self.widths[1:, 0]
        slow = np.maximum(self.widths[:-1, 1], self.widths[1:, 1])
        met = np.flatnonzero(near < start_mm)[::-1]
        near, far = near[met], np.minimum(far[met], start_mm)
        wide = np.maximum.accumulate(slow[met])
        with np.errstate(divide="ignore"):  # what is narrow enough may be as deep as it likes
            reach = start_mm - np.maximum(self.thick_mm**-2 - wide**-2, 0.0) ** -0.5
        stops = np.flatnonzero(reach > near)
        by_heat = float(min(reach[stops[0]], far[stops[0]])) if len(stops) else 0.0
        return max(by_heat, start_mm - self.deep_mm, 0.0)

    def thickness_mm(self, from_mm: float, to_mm: float) -> float:
        """Return the thickness of the slab that cools as slowly as a fill between two readings."""
        met = (self.widths[1:, 0] > to_mm) & (self.widths[:-1, 0] < from_mm)
        wide = np.maximum(self.widths[:-1, 1], self.widths[1:, 1])[met]
        return slab_mm(max(from_mm - to_mm, 0.0), float(np.max(wide, initial=0.0)))


def staged_fills(
    table: Floats, limits: FillLimits, sheet: ResinSheet, step_g: float
) -> tuple[Fill, ...]:
    """Share a cavity out in the fewest fills that keep within the limits, the deepest first.

    Of all ways to do with so few, the one is taken that stays farthest below the limits: as even as
    it goes.

    Parameters
    ----------
    table : ndarray, shape (n, 2)
        mm below the rim, and ml of the cavity still to fill.
    limits : FillLimits
        Of one fill.
    sheet : ResinSheet
        Density and ratio.
    step_g : float
        Of the scale.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import ResinSheet
    >>> table, water = np.array([[0.0, 0.0], [40.0, 100.0]]), ResinSheet(density_kg_m3=1000.0)
    >>> limits = FillLimits(60.0, 25.0, 500.0, np.array([[0.0, 1e4], [40.0, 1e4]]))
    >>> fills = staged_fills(table, limits, water, 1.0)
    >>> [(round(fill.to_mm_below_rim, 3), round(fill.ml, 3)) for fill in fills]
    [(20.0, 50.0), (0.0, 50.0)]
    """
    density_g_ml = sheet.density_kg_m3 * KG_M3_TO_G_ML
    total = float(table[-1, 1])
    start = _start_mm(table)

    def levels(share: float) -> list[float]:
        return _levels(table, start, limits.part(share), density_g_ml)

    fewest, low, high = len(levels(1.0)), 0.5 / len(levels(1.0)), 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if len(levels(middle)) <= fewest:
            high = middle
        else:
            low = middle
    found, above, left = [], start, total
    for to in levels(high):
        ml = left - float(np.interp(to, *table.T))
        batch = batch_of(ml * density_g_ml, sheet, step_g)
        deep, thick = max(above - to, 0.0), limits.thickness_mm(above, to)
        found.append(Fill(to, ml, ml * density_g_ml, deep, thick, batch.a_g, batch.b_g))
        above, left = to, left - ml
    return tuple(found)


def fewest_fills(table: Floats, limits: FillLimits, sheet: ResinSheet) -> int:
    """Return how many fills it takes within limits; arguments as those of `staged_fills`.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import ResinSheet
    >>> table, water = np.array([[0.0, 0.0], [40.0, 100.0]]), ResinSheet(density_kg_m3=1000.0)
    >>> wide = np.array([[0.0, 1e4], [40.0, 1e4]])
    >>> fewest_fills(table, FillLimits(30.0, 25.0, 500.0, wide), water)
    4
    """
    return len(_levels(table, _start_mm(table), limits, sheet.density_kg_m3 * KG_M3_TO_G_ML))


def _start_mm(table: Floats) -> float:
    """Return where the deepest fill begins, its tip not counted."""
    return float(np.interp((1.0 - FILL_TIP_SHARE) * table[-1, 1], table[:, 1], table[:, 0]))


def _levels(table: Floats, start: float, limits: FillLimits, density_g_ml: float) -> list[float]:
    """Return where each fill ends if each is as large as it may be."""
    (mm, ml), most_ml = table.T, limits.most_g / density_g_ml
    at, left, found = start, float(ml[-1]), []
    while left > 0.0:
        by_mass = float(np.interp(left - most_ml, ml, mm)) if left > most_ml else 0.0
        at = max(by_mass, limits.lowest_mm(at))
        left = float(np.interp(at, mm, ml)) if at > GROUND_MM else 0.0
        found.append(at if left else 0.0)
    return found
