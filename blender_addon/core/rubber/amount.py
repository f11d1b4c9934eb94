"""How much rubber, and what to weigh out for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.rubber import CHUNKS_MOST_SHARE
from ..errors import UnusableMeshError
from ..geometry.solid import enclosed_volume_ml
from ..geometry.volume_below import volume_below_ml
from ..units import KG_M3_TO_G_ML, ML_PER_MM3

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


@dataclass(frozen=True)
class Saved:
    """What of the room round the master no fresh rubber has to be poured into, in ml.

    ``chunks_most_g`` is what old rubber could be thrown in at the most.
    """

    coat_ml: float
    chunks_ml: float
    chunks_most_g: float


def saved_of(volume_ml: float, coat_g: float, settings: RubberSettings) -> Saved:
    """Return what the brushed coat and old chunks take up.

    Chunks of the same cured rubber may take a share of the volume and no more: fresh rubber must
    run round each, and none may come near the master (common practice, no source).

    Examples
    --------
    >>> from blender_addon.core.rubber.settings import RubberSettings
    >>> saved = saved_of(2000.0, 21.6, RubberSettings(density_kg_m3=1080.0, chunks_g=540.0))
    >>> round(saved.coat_ml, 1), round(saved.chunks_ml, 1), round(saved.chunks_most_g, 1)
    (20.0, 495.0, 534.6)
    """
    density_g_ml = settings.density_kg_m3 * KG_M3_TO_G_ML
    coat_ml = min(coat_g / density_g_ml, volume_ml)
    most_ml = CHUNKS_MOST_SHARE * (volume_ml - coat_ml)
    return Saved(
        coat_ml=coat_ml,
        chunks_ml=min(settings.chunks_g / density_g_ml, most_ml),
        chunks_most_g=most_ml * density_g_ml,
    )
