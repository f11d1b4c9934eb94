"""The funnel stage: a throat as wide as the channel, a bowl over the rim."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.funnel import (
    CONE_FROM_UPRIGHT_DEG,
    FAR_OFF_WALL_MM,
    FUNNEL_SEAT_MM,
    HOOK_ROOM_MM,
    LEAST_DIP_MM,
    THROAT_DIP_MM,
    WIDE_THROAT_MM,
)
from ..geometry.convex import centroid_mm, spread_of
from ..geometry.hull import smallest_circle
from ..notices import Notice
from ..sentences import a_length
from ..units import CM2_PER_MM2
from .bowl import bowl_over
from .duct import duct_flow_mm4, equal_round_mm
from .result import FunnelResult
from .throat import throat_outline

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..geometry.convex import Spread
    from ..watch import Watch
    from .settings import FunnelSettings


def funnel_stage(case: CaseResult, settings: FunnelSettings, watch: Watch) -> FunnelResult:
    """Return the funnel that stands on the rim at the back and leads the stream down the wall.

    Parameters
    ----------
    case : CaseResult
        The tube, the master in it and the clear channel.
    settings : FunnelSettings
        Clearance, walls, and what the bowl holds.
    watch : Watch
        Told of progress.

    Returns
    -------
    FunnelResult
        In the job frame.

    Raises
    ------
    BadSettingError
        If the channel is too narrow for a throat.
    """
    outline, way = throat_outline(case, settings)
    watch.at(0.5)
    throat = spread_of(outline)
    dip = min(THROAT_DIP_MM, (case.height_mm - case.level_z_mm) / 2.0)
    bottom = case.height_mm - (dip if dip >= LEAST_DIP_MM else -LEAST_DIP_MM)
    # the outside of the cone bends off the throat below the inside: by this share of the wall
    bend = settings.wall_mm * math.tan(math.radians(CONE_FROM_UPRIGHT_DEG / 2.0))
    cone_z = case.height_mm + FUNNEL_SEAT_MM + bend
    bowl = bowl_over(throat, settings.bowl_ml, _over_hook_mm(case, throat, way))
    top = cone_z + bowl.cone_mm + bowl.straight_mm
    at = centroid_mm(outline)
    return FunnelResult(
        at_mm=at,
        way_to_wall=(float(way[0]), float(way[1])),
        throat_outline_mm=outline,
        throat_mm=equal_round_mm(duct_flow_mm4(outline)),
        throat_bottom_z_mm=bottom,
        cone_z_mm=cone_z,
        spread_mm=bowl.spread_mm,
        bowl_mm=2.0 * smallest_circle(throat.ring(bowl.spread_mm))[1],
        top_z_mm=top,
        wall_mm=settings.wall_mm,
        throat_length_mm=cone_z - bottom,
        throat_area_cm2=throat.area_mm2(0.0) * CM2_PER_MM2,
        bowl_ml=bowl.holds_ml,
        height_mm=top - bottom,
        clearance_mm=settings.clearance_mm,
        warnings=_warnings(case, outline, (*at, bottom)),
    )


def _over_hook_mm(case: CaseResult, throat: Spread, way: Floats) -> float:
    """Return how far the bowl must spread to lie over the hook outside the case."""
    at = throat.outline_mm[(throat.outline_mm @ way).argmax()]
    to_wall = float(case.bore.reaches_mm([at], [way])[0])
    return to_wall + case.wall_mm + HOOK_ROOM_MM


def _warnings(
    case: CaseResult, outline: Floats, at: tuple[float, float, float]
) -> tuple[Notice, ...]:
    found = []
    off_mm = float(np.min(case.bore.distances_mm(outline)))
    if off_mm > FAR_OFF_WALL_MM:
        text = (
            f"The throat stands {a_length(off_mm)} off the wall, for the master is in the way:"
            " the stream falls free. Pour slowly, in a thin stream."
        )
        found.append(Notice("throat_off_wall", text, at))
    across_mm = min(np.ptp(outline, axis=0))
    if across_mm > WIDE_THROAT_MM:
        text = (
            f"The throat is as wide as the channel, {a_length(float(across_mm))} and more: pour"
            f" close to the wall, or set funnel.widest_throat_mm to {a_length(WIDE_THROAT_MM, 'g')}"
            " or less for a small funnel that leads the stream there."
        )
        found.append(Notice("wide_throat", text, at))
    if at[2] > case.height_mm:
        text = (
            "There is too little freeboard for the throat to dip into: the funnel only stands on"
            f" the rim. Hold it while you pour, or give case.freeboard_mm {a_length(10.0, 'g')}."
        )
        found.append(Notice("no_freeboard", text, at))
    return tuple(found)
