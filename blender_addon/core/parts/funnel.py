"""The funnel as a solid: throat, cone and bowl of the throat's own shape, and a hook on the rim."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.funnel import CONE_FROM_UPRIGHT_DEG, HOOK_ROOM_MM
from ..constants.parts import (
    HOOK_DROP_MM,
    HOOK_SHARE,
    JAW_STEP_MM,
    LEAST_JAW_MM,
    THROAT_BELOW_JAW_MM,
)
from .rounds import rectangle, upright

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from .settings import PartsSettings

Levels = tuple[tuple[float, float], ...]
"""Height, and how far the outline there stands outside the throat's inside."""


def funnel_solid(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings
) -> manifold3d.Manifold:
    """Return the funnel in the job frame. Upside down, it prints without supports."""
    wall, bend = funnel.wall_mm, _bend_mm(funnel)
    bottom, top = funnel.throat_bottom_z_mm, funnel.top_z_mm
    below = min(bottom, case.height_mm) - 1.0
    inside = (
        (below, 0.0),
        (funnel.cone_z_mm, 0.0),
        (funnel.bowl_z_mm, funnel.spread_mm),
        (top + 1.0, funnel.spread_mm),
    )
    # the wall is as thick across the cone as elsewhere
    outside = (
        (bottom, wall),
        (funnel.cone_z_mm - bend, wall),
        (funnel.bowl_z_mm - bend, funnel.spread_mm + wall),
        (top, funnel.spread_mm + wall),
    )
    return (_opening(funnel, outside) + _hook(case, funnel, settings)) - _opening(funnel, inside)


def _opening(funnel: FunnelResult, levels: Levels) -> manifold3d.Manifold:
    """Return the solid whose outline is spread more and more from level to level."""
    rings = [_at_height(funnel.spread.ring(by_mm), z) for z, by_mm in levels]
    solid = manifold3d.Manifold()
    for low, high in itertools.pairwise(rings):
        solid += manifold3d.Manifold.hull_points(np.vstack([low, high]))
    return solid


def _at_height(outline: Floats, z_mm: float) -> Floats:
    return np.column_stack([outline, np.full(len(outline), z_mm)])


def _bend_mm(funnel: FunnelResult) -> float:
    """Return how much lower the outside of the cone bends than the inside."""
    return funnel.wall_mm * math.tan(math.radians(CONE_FROM_UPRIGHT_DEG / 2.0))


def _hook(case: CaseResult, funnel: FunnelResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return what fills the room under the cone over the rim, and the two jaws down its sides.

    Every wall of it crosses the turned shape at an angle: none only touches it.
    """
    rim, bottom = case.height_mm, funnel.throat_bottom_z_mm
    room = case.bore.offset(case.wall_mm + HOOK_ROOM_MM).section()
    outer = case.bore.offset(case.wall_mm + settings.fit_mm).section()
    band = _band(case, funnel) ^ room
    top = funnel.bowl_z_mm - _bend_mm(funnel) / 2.0  # within the wall, where the cone ends
    low = rim - min(HOOK_DROP_MM, rim / 3.0)
    solid = upright(band, rim, top) + upright(band - outer, low, top)
    if rim - bottom > LEAST_JAW_MM:
        bore = case.bore.offset(-_jaw_gap_mm(case, funnel, settings)).section()
        solid += upright(band ^ bore, bottom + THROAT_BELOW_JAW_MM, top)
    return solid


def _band(case: CaseResult, funnel: FunnelResult) -> manifold3d.CrossSection:
    """Return the plan of the hook: from the throat's middle to the wall, under the bowl."""
    at, way = np.array(funnel.at_mm), np.array(funnel.way_to_wall)
    across = np.array([-way[1], way[0]])
    bowl = funnel.spread.ring(funnel.spread_mm + funnel.wall_mm / 2.0)
    throat = funnel.spread.ring(funnel.wall_mm)
    chord = float(case.bore.reaches_mm([at, at], [across, -across]).min())
    half = HOOK_SHARE * min(float(np.abs((bowl - at) @ across).max()), chord)
    half = max(half, float(np.abs((throat - at) @ across).max()) + LEAST_JAW_MM)
    strip = rectangle((-half, 0.0), (half, 2.0 * funnel.bowl_mm))
    turn_deg = math.degrees(math.atan2(-way[0], way[1]))
    return strip.rotate(turn_deg).translate(funnel.at_mm) ^ manifold3d.CrossSection([bowl])


def _jaw_gap_mm(case: CaseResult, funnel: FunnelResult, settings: PartsSettings) -> float:
    """Return the air between the inner jaw and the case: the fit, and never the throat's own."""
    outside = funnel.spread.ring(funnel.wall_mm)
    clearance = float(np.min(case.bore.distances_mm(outside)))
    apart = abs(clearance - settings.fit_mm) >= JAW_STEP_MM
    return settings.fit_mm if apart else clearance + JAW_STEP_MM
