"""The throat: as wide as the channel lets it be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.funnel import (
    LEAST_THROAT_MM,
    THROAT_CORNER_MM,
    THROAT_SLOT_MM,
    THROAT_SLOT_SHARE,
)
from ..errors import BadSettingError
from ..geometry.convex import rounded
from ..sentences import a_length
from .room import throat_room

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from .settings import FunnelSettings


def throat_outline(case: CaseResult, settings: FunnelSettings) -> tuple[Floats, Floats]:
    """Return the throat's inside in plan (k, 2), and the way to the wall (2,).

    It holds the channel's whole disc, unless a narrower throat is asked for, and what room there is
    beside it: what falls through it meets nothing down to the floor.

    Raises
    ------
    BadSettingError
        If the channel leaves no throat.
    """
    if case.channel_mm < LEAST_THROAT_MM:
        message = (
            f"the clear channel is {a_length(case.channel_mm)} wide, and the least throat"
            f" {a_length(LEAST_THROAT_MM, 'g')}. Ask for a wider channel."
        )
        raise BadSettingError("case.least_channel_mm", message)
    slot_mm = max(case.channel_mm, min(THROAT_SLOT_MM, THROAT_SLOT_SHARE * case.channel_mm))
    widest_mm = min(slot_mm, settings.widest_throat_mm)
    room, way = throat_room(case, settings.clearance_mm, widest_mm)
    narrowest = min(case.channel_mm, widest_mm)
    return rounded(room, 0.0, min(THROAT_CORNER_MM, narrowest / 4.0)), way
