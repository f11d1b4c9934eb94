"""The throat: as wide as the channel lets it be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.funnel import LEAST_THROAT_MM, THROAT_CORNER_MM
from ..errors import BadSettingError
from ..geometry.convex import REACH_SHARE, rounded
from .room import throat_room

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from .settings import FunnelSettings


def throat_outline(case: CaseResult, settings: FunnelSettings) -> tuple[Floats, Floats]:
    """Return the throat's inside in plan (k, 2), and the way to the wall (2,).

    It holds the channel's disc less clearance and wall on both sides, and what room there is
    beside it.

    Raises
    ------
    BadSettingError
        If the channel leaves no throat.
    """
    taken = 2.0 * (settings.clearance_mm + settings.wall_mm)
    if case.channel_mm - taken < LEAST_THROAT_MM:
        message = (
            f"the clear channel is {case.channel_mm:.1f} mm wide, but the least throat of"
            f" {LEAST_THROAT_MM:g} mm needs {LEAST_THROAT_MM + taken:.1f} mm with the funnel's wall"
            " and clearance. Widen the channel, or lower funnel.wall_mm or funnel.clearance_mm."
        )
        raise BadSettingError("case.least_channel_mm", message)
    widest = settings.widest_throat_mm + 2.0 * settings.wall_mm
    room, way = throat_room(case, settings.clearance_mm, widest)
    narrowest = min(case.channel_mm - taken, settings.widest_throat_mm)
    inset_mm = settings.wall_mm * REACH_SHARE  # the outside's corners reach beyond its sides
    return rounded(room, inset_mm, min(THROAT_CORNER_MM, narrowest / 4.0)), way
