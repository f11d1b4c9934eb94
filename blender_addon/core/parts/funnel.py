"""The funnel as a solid: throat, cone and bowl of the throat's own shape, and a hook on the rim."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.common import GROUND_MM
from ..constants.funnel import CONE_FROM_UPRIGHT_DEG, FUNNEL_SEAT_MM, HOOK_ROOM_MM
from ..constants.parts import (
    EDGE_CHAMFER_MM,
    FIXING_ROOM_MM,
    HOOK_DROP_MM,
    HOOK_SHARE,
    JAW_STEP_MM,
    JAW_WIDE_MM,
    LEAST_JAW_MM,
    LEAST_JAW_MM2,
    THROAT_BELOW_JAW_MM,
    WITHIN_MM,
)
from ..funnel.bowl import CONE_SPREAD
from .flanges import flange_plan
from .rounds import rectangle, upright

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from .seams import Seam
    from .settings import PartsSettings

Levels = tuple[tuple[float, float], ...]
"""Height, and how far the outline there stands outside the throat's inside."""


def funnel_solid(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings, seams: Sequence[Seam] = ()
) -> manifold3d.Manifold:
    """Return the funnel in the job frame. Upside down, it prints without supports.

    Its outer jaw keeps off the flanges of the seams, and off what closes them.
    """
    wall, bend, top = funnel.wall_mm, _bend_mm(funnel), funnel.top_z_mm
    broken = min(EDGE_CHAMFER_MM, wall / 3.0)
    seat = max(funnel.throat_bottom_z_mm, case.height_mm)
    below = min(funnel.throat_bottom_z_mm, case.height_mm) - 1.0
    inside = (
        (below, 0.0),
        (funnel.cone_z_mm, 0.0),
        (funnel.bowl_z_mm, funnel.spread_mm),
        (top + 1.0, funnel.spread_mm),
    )
    # the wall is as thick across the cone as elsewhere
    outside = (
        (seat, wall),
        (funnel.cone_z_mm - bend, wall),
        (funnel.bowl_z_mm - bend, funnel.spread_mm + wall),
        (top - broken / CONE_SPREAD, funnel.spread_mm + wall),
        (top, funnel.spread_mm + wall - broken),
    )
    solid = _opening(funnel, outside) + _hook(case, funnel, settings, seams)
    if case.height_mm - funnel.throat_bottom_z_mm > GROUND_MM:
        solid += _in_case(case, funnel, settings)
    return solid - _opening(funnel, inside)


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


def _hook(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings, seams: Sequence[Seam]
) -> manifold3d.Manifold:
    """Return what fills the room under the cone over the rim, and the jaw down the outside."""
    rim = case.height_mm
    room = case.bore.offset(case.wall_mm + HOOK_ROOM_MM).section()
    outer = case.bore.offset(case.wall_mm + settings.fit_mm).section()
    band = _band(case, funnel) ^ room
    low, top = rim - min(HOOK_DROP_MM, rim / 3.0), _hook_top_mm(funnel)
    jaw = band - outer
    for seam in seams:
        flanges = flange_plan(seam, 1.0, settings) + flange_plan(seam, -1.0, settings)
        jaw -= flanges.offset(FIXING_ROOM_MM, manifold3d.JoinType.Miter)
    solid = upright(band, rim, top)
    for piece in jaw.decompose():
        if piece.area() >= LEAST_JAW_MM2:
            solid += upright(piece, low, top)
    return solid


def _hook_top_mm(funnel: FunnelResult) -> float:
    """Return a height within the wall where the cone ends."""
    return funnel.bowl_z_mm - _bend_mm(funnel) / 2.0


def _in_case(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings
) -> manifold3d.Manifold:
    """Return what hangs in the case: the throat's front and sides, and a jaw on each side of it.

    At the back the case itself is the throat's wall. Every wall crosses the throat's at an angle or
    lies within it: none only touches it.
    """
    bottom, bore = funnel.throat_bottom_z_mm, case.bore
    hanging = manifold3d.CrossSection([funnel.spread.ring(funnel.wall_mm - WITHIN_MM)])
    hanging ^= bore.offset(-funnel.clearance_mm).section()
    solid = upright(hanging, bottom, case.height_mm + FUNNEL_SEAT_MM / 2.0)
    if case.height_mm - bottom > LEAST_JAW_MM:
        beside = _band(case, funnel) ^ bore.offset(-_jaw_gap_mm(case, funnel, settings)).section()
        beside -= manifold3d.CrossSection([funnel.spread.ring(funnel.wall_mm - 2.0 * WITHIN_MM)])
        solid += upright(beside, bottom + THROAT_BELOW_JAW_MM, _hook_top_mm(funnel))
    return solid


def _band(case: CaseResult, funnel: FunnelResult) -> manifold3d.CrossSection:
    """Return the plan of the hook: from the throat's middle to the wall, under the bowl."""
    at, way = np.array(funnel.at_mm), np.array(funnel.way_to_wall)
    across = np.array([-way[1], way[0]])
    bowl = funnel.spread.ring(funnel.spread_mm + funnel.wall_mm / 2.0)
    throat = funnel.spread.ring(funnel.wall_mm)
    chord = float(case.bore.reaches_mm([at, at], [across, -across]).min())
    half = HOOK_SHARE * min(float(np.abs((bowl - at) @ across).max()), chord)
    half = max(half, float(np.abs((throat - at) @ across).max()) + JAW_WIDE_MM)
    strip = rectangle((-half, 0.0), (half, 2.0 * funnel.bowl_mm))
    turn_deg = math.degrees(math.atan2(-way[0], way[1]))
    return strip.rotate(turn_deg).translate(funnel.at_mm) ^ manifold3d.CrossSection([bowl])


def _jaw_gap_mm(case: CaseResult, funnel: FunnelResult, settings: PartsSettings) -> float:
    """Return the air between a jaw and the case: the fit, and what a tube may be narrower by."""
    gap = settings.fit_mm + case.bore_slack_mm
    apart = abs(funnel.clearance_mm - gap) >= JAW_STEP_MM
    return gap if apart else funnel.clearance_mm + JAW_STEP_MM
