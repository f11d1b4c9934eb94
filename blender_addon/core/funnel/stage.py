"""The funnel stage: a throat down the channel, a bowl over the rim."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..constants import (
    CONE_FROM_UPRIGHT_DEG,
    FUNNEL_SEAT_MM,
    HOOK_ROOM_MM,
    LEAST_DIP_MM,
    THROAT_DIP_MM,
)
from ..notices import Notice
from ..units import CM2_PER_MM2, length_text
from .bowl import bowl_over
from .result import FunnelResult
from .throat import throat_at_mm, throat_mm

if TYPE_CHECKING:
    from ..case.result import CaseResult
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
        In the job frame. The throat ends below the rim, but never in the rubber.

    Raises
    ------
    BadSettingError
        If the channel leaves no throat.
    """
    width = throat_mm(case, settings)
    outer = width / 2.0 + settings.wall_mm
    watch.at(0.1)
    at = throat_at_mm(case, outer, settings.clearance_mm)
    watch.at(0.9)
    dip = min(THROAT_DIP_MM, (case.height_mm - case.level_z_mm) / 2.0)
    bottom = case.height_mm - (dip if dip >= LEAST_DIP_MM else -LEAST_DIP_MM)
    # the outside of the cone bends off the throat below the inside: by this share of the wall
    bend = settings.wall_mm * math.tan(math.radians(CONE_FROM_UPRIGHT_DEG / 2.0))
    cone_z = case.height_mm + FUNNEL_SEAT_MM + bend
    reach = case.inner_diameter_mm / 2.0 + case.wall_mm + HOOK_ROOM_MM - math.hypot(*at)
    bowl = bowl_over(width / 2.0, settings.bowl_ml, reach)
    top = cone_z + bowl.cone_mm + bowl.straight_mm
    return FunnelResult(
        at_mm=at,
        throat_mm=width,
        throat_bottom_z_mm=bottom,
        cone_z_mm=cone_z,
        bowl_mm=2.0 * bowl.radius_mm,
        top_z_mm=top,
        wall_mm=settings.wall_mm,
        throat_length_mm=cone_z - bottom,
        throat_area_cm2=math.pi * width**2 / 4.0 * CM2_PER_MM2,
        bowl_ml=bowl.holds_ml,
        height_mm=top - bottom,
        warnings=_warnings(case, at, outer + settings.clearance_mm, bottom),
    )


def _warnings(
    case: CaseResult, at: tuple[float, float], room_mm: float, bottom_mm: float
) -> tuple[Notice, ...]:
    found = []
    off_mm = case.inner_diameter_mm / 2.0 - room_mm - math.hypot(*at)
    if off_mm > 1.0:
        text = (
            f"The throat stands {length_text(off_mm)} further off the wall than its clearance, for"
            " the master is in the way: the stream falls free. Pour slowly, in a thin stream."
        )
        found.append(Notice("throat_off_wall", text, (*at, bottom_mm)))
    if bottom_mm > case.height_mm:
        text = (
            "There is too little freeboard for the throat to dip into: the funnel only stands on"
            " the rim. Hold it while you pour, or give case.freeboard_mm 10 mm."
        )
        found.append(Notice("no_freeboard", text, (*at, bottom_mm)))
    return tuple(found)
