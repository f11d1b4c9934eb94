"""How much rubber, and what to weigh out for it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..errors import UnusableMeshError
from ..geometry.solid import enclosed_volume_ml
from ..geometry.volume_below import volume_below_ml
from ..units import KG_M3_TO_G_ML, ML_PER_MM3
from .result import Batch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..case.result import CaseResult
    from .settings import RubberSettings


def outline_area_mm2(outlines: Sequence[Floats]) -> float:
    """Return the area of closed polygons (k, 2); clockwise ones are holes.

    References
    ----------
    .. [1] Meister 1769, Gauss 1795: the shoelace formula.

    Examples
    --------
    >>> square = np.array([[0, 0], [10, 0], [10, 10], [0, 10]], float)
    >>> outline_area_mm2([square, square[::-1] / 2])
    75.0
    """
    area = 0.0
    for outline in outlines:
        x, y = (outline - outline[0]).T
        area += float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
    return area


def rubber_below_ml(case: CaseResult, heights_mm: Floats) -> Floats:
    """Return how much rubber stands in the case below each height (n,), ascending."""
    riser_mm2 = outline_area_mm2(case.riser_outline)
    round_it = case.bore.area_mm2 * heights_mm - riser_mm2 * np.clip(heights_mm, 0.0, case.riser_mm)
    below: Floats = round_it * ML_PER_MM3 - volume_below_ml(case.master, heights_mm)
    return below


def rubber_volume_ml(case: CaseResult) -> float:
    """Return what fills the case round the master, from the floor to the level, less the riser.

    Raises
    ------
    UnusableMeshError
        If master and riser take all the room there is.
    """
    bore_ml = case.bore.area_mm2 * case.level_z_mm * ML_PER_MM3
    riser_ml = outline_area_mm2(case.riser_outline) * case.riser_mm * ML_PER_MM3
    volume = bore_ml - enclosed_volume_ml(case.master) - riser_ml
    if volume <= 0.0:
        message = (
            f"The master fills the whole case ({bore_ml:.0f} ml): no room is left for rubber."
            " Check the scan's height, or take a wider tube."
        )
        raise UnusableMeshError(message)
    return volume


def batches_of(mix_ml: float, settings: RubberSettings) -> tuple[Batch, ...]:
    """Return the fewest equal batches that each fit a cup, their parts by weight.

    Examples
    --------
    >>> from blender_addon.core.rubber.settings import RubberSettings
    >>> (batch,) = batches_of(2000.0, RubberSettings(density_kg_m3=1200.0))
    >>> round(batch.a_g, 1), round(batch.b_g, 1)
    (2181.8, 218.2)
    >>> len(batches_of(10001.0, RubberSettings(cup_ml=5000.0)))
    3
    """
    count = max(math.ceil(mix_ml / settings.cup_ml), 1)
    cup_ml = mix_ml / count
    mass_g = cup_ml * settings.density_kg_m3 * KG_M3_TO_G_ML
    a_share = settings.a_parts / (settings.a_parts + settings.b_parts)
    return (Batch(mass_g * a_share, mass_g * (1.0 - a_share), cup_ml),) * count
