"""The funnel as a solid: throat, cone and bowl of turned shape, and a hook over the rim."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..constants import (
    CONE_FROM_UPRIGHT_DEG,
    HOOK_DROP_MM,
    HOOK_ROOM_MM,
    HOOK_SHARE,
    JAW_STEP_MM,
    LEAST_JAW_MM,
    ROUND_SEGMENTS,
    THROAT_BELOW_JAW_MM,
)
from .rounds import disc, rectangle, turned, upright

if TYPE_CHECKING:
    import manifold3d

    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from .settings import PartsSettings


def funnel_solid(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings
) -> manifold3d.Manifold:
    """Return the funnel in the job frame. Upside down, it prints without supports."""
    x, y = funnel.at_mm
    # by half a side, so that the hook's straight edges cross sides and never meet a corner
    turn = (0.0, 0.0, math.degrees(math.atan2(-x, y)) + 180.0 / ROUND_SEGMENTS)
    below = min(funnel.throat_bottom_z_mm, case.height_mm) - 1.0
    inside = [
        (0.0, below),
        (funnel.throat_mm / 2.0, below),
        (funnel.throat_mm / 2.0, funnel.cone_z_mm),
        (funnel.bowl_mm / 2.0, funnel.bowl_z_mm),
        (funnel.bowl_mm / 2.0, funnel.top_z_mm + 1.0),
        (0.0, funnel.top_z_mm + 1.0),
    ]
    shell = turned(_outside(funnel)).rotate(turn).translate((x, y, 0.0))
    hook = _hook(case, funnel, settings)
    return (shell + hook) - turned(inside).rotate(turn).translate((x, y, 0.0))


def _outside(funnel: FunnelResult) -> list[tuple[float, float]]:
    """Return the outer profile: the wall is as thick across the cone as elsewhere."""
    wall, bend = funnel.wall_mm, _bend_mm(funnel)
    throat, bowl = funnel.throat_mm / 2.0 + wall, funnel.bowl_mm / 2.0 + wall
    return [
        (0.0, funnel.throat_bottom_z_mm),
        (throat, funnel.throat_bottom_z_mm),
        (throat, funnel.cone_z_mm - bend),
        (bowl, funnel.bowl_z_mm - bend),
        (bowl, funnel.top_z_mm),
        (0.0, funnel.top_z_mm),
    ]


def _bend_mm(funnel: FunnelResult) -> float:
    """Return how much lower the outside of the cone bends than the inside."""
    return funnel.wall_mm * math.tan(math.radians(CONE_FROM_UPRIGHT_DEG / 2.0))


def _hook(case: CaseResult, funnel: FunnelResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return what fills the room under the cone over the rim, and the two jaws down its sides.

    Every wall of it crosses the turned shape at an angle: none only touches it.
    """
    rim, bottom = case.height_mm, funnel.throat_bottom_z_mm
    outer = case.inner_diameter_mm / 2.0 + case.wall_mm
    bore = disc(case.inner_diameter_mm / 2.0 - _jaw_gap_mm(case, funnel, settings))
    band = _band(case, funnel) ^ disc(outer + HOOK_ROOM_MM)
    top = funnel.bowl_z_mm - _bend_mm(funnel) / 2.0  # within the wall, where the cone ends
    low = rim - min(HOOK_DROP_MM, rim / 3.0)
    solid = upright(band, rim, top) + upright(band - disc(outer + settings.fit_mm), low, top)
    if rim - bottom > LEAST_JAW_MM:
        solid += upright(band ^ bore, bottom + THROAT_BELOW_JAW_MM, top)
    return solid


def _band(case: CaseResult, funnel: FunnelResult) -> manifold3d.CrossSection:
    """Return the plan of the hook: outward from the throat's axis, under the bowl."""
    x, y = funnel.at_mm
    away, radius = math.hypot(x, y), case.inner_diameter_mm / 2.0
    bowl, throat = funnel.bowl_mm / 2.0 + funnel.wall_mm, funnel.throat_mm / 2.0 + funnel.wall_mm
    chord = math.sqrt(radius**2 - away**2)
    half = max(HOOK_SHARE * min(bowl, chord), throat + LEAST_JAW_MM)
    strip = rectangle((-half, away), (half, away + 2.0 * bowl))
    return strip.rotate(math.degrees(math.atan2(-x, y))) ^ disc(bowl - funnel.wall_mm / 2.0, (x, y))


def _jaw_gap_mm(case: CaseResult, funnel: FunnelResult, settings: PartsSettings) -> float:
    """Return the air between the inner jaw and the case: the fit, and never the throat's own."""
    throat = funnel.throat_mm / 2.0 + funnel.wall_mm
    clearance = case.inner_diameter_mm / 2.0 - math.hypot(*funnel.at_mm) - throat
    apart = abs(clearance - settings.fit_mm) >= JAW_STEP_MM
    return settings.fit_mm if apart else clearance + JAW_STEP_MM
