"""A piece of the case cut into rings that stand on each other."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from .rounds import rectangle, upright
from .seams import FAR_MM
from .steps import skirt, slope, step_wide_mm

if TYPE_CHECKING:
    import manifold3d

    from ..case.result import CaseResult
    from .settings import PartsSettings


def rings_of(
    whole: manifold3d.Manifold,
    case: CaseResult,
    floors_mm: tuple[float, ...],
    settings: PartsSettings,
) -> list[manifold3d.Manifold]:
    """Return the rings of one piece, the lowest first; each joint has its skirt and slope."""
    if len(floors_mm) == 2:
        return [whole]
    bore, wall, fit = case.bore.outline_mm, case.wall_mm, settings.fit_mm
    stepped = step_wide_mm(wall, fit) > 0.0
    everywhere = rectangle((-FAR_MM, -FAR_MM), (FAR_MM, FAR_MM))
    cut = []
    for low, high in pairwise(floors_mm):
        ring = whole ^ upright(everywhere, low, high)
        if stepped and high < floors_mm[-1]:
            ring -= slope(bore, wall, fit, high)
        if stepped and low > floors_mm[0]:
            ring += whole ^ skirt(bore, wall, fit, low)
        cut.append(ring)
    return cut
