"""What is brushed before the pour: what was computed, with the maker's paint over it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..constants.bubbles import MUCH_TO_BRUSH_SHARE
from ..geometry.solid import area_cm2
from ..notices import Notice
from ..units import CM2_PER_MM2, KG_M3_TO_G_ML, ML_PER_MM3
from .paint import painted

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .paint import Paint
    from .result import BubblesResult
    from .settings import BubblesSettings


def brush_stage(
    scan: ScanResult, air: BubblesResult, paint: Paint, settings: BubblesSettings, watch: Watch
) -> BubblesResult:
    """Return the air with the brush map as the maker wants it, its area and its rubber.

    Apart from `bubbles_stage`, so that a stroke of the brush computes no air again.

    Parameters
    ----------
    scan : ScanResult
        The master.
    air : BubblesResult
        Of `bubbles_stage`.
    paint : Paint
        What the maker added to the map or took off it.
    settings : BubblesSettings
        The coat.
    watch : Watch
        Told at the end.
    """
    prebrush = painted(air.computed, paint, scan.source_faces) & ~scan.base_faces
    brush_cm2 = area_cm2(scan.mesh, prebrush)
    watch.at(1.0)
    return replace(
        air,
        prebrush=prebrush,
        prebrush_area_cm2=brush_cm2,
        prebrush_g=coat_g(brush_cm2, settings),
        warnings=(*air.warnings, *_warnings(brush_cm2, scan.area_cm2)),
    )


def coat_g(area_cm2: float, settings: BubblesSettings) -> float:
    """Return the rubber that a coat takes.

    Examples
    --------
    >>> from blender_addon.core.bubbles.settings import BubblesSettings
    >>> round(coat_g(10.0, BubblesSettings(coat_mm=1.0, coat_density_kg_m3=1080.0)), 6)
    1.08
    """
    coat_ml = area_cm2 / CM2_PER_MM2 * settings.coat_mm * ML_PER_MM3
    return coat_ml * settings.coat_density_kg_m3 * KG_M3_TO_G_ML


def _warnings(brush_cm2: float, whole_cm2: float) -> tuple[Notice, ...]:
    if brush_cm2 <= MUCH_TO_BRUSH_SHARE * whole_cm2:
        return ()
    text = "More than half of the surface is to be brushed: can it stand another way?"
    return (Notice("much_to_brush", text),)
