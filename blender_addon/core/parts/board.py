"""The base board: the riser stands on it, a rim holds the foot of the case."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d

from ..constants import (
    BOARD_MARGIN_MM,
    FOOT_RIM_MM,
    FOOT_RIM_WIDE_MM,
    GROUND_MM,
    HAIR_MM,
    OUTLINE_STEP_MM,
    SEAM_WAX_MM,
)
from .rounds import disc, rectangle, turned, upright

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .settings import PartsSettings


def base_board(case: CaseResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return board, rim and riser as one solid, in the job frame: the board's top is z = 0.

    A tab marks the back, where the funnel goes.
    """
    middle = -settings.board_mm / 2.0
    foot = case.inner_diameter_mm / 2.0 + case.wall_mm + settings.fit_mm
    wide = foot + FOOT_RIM_WIDE_MM
    rim = turned(
        [
            (foot, middle),
            (wide, middle),
            (wide, FOOT_RIM_MM),
            (foot + SEAM_WAX_MM, FOOT_RIM_MM),
            (foot, FOOT_RIM_MM - SEAM_WAX_MM),
        ]
    )
    edge = wide + BOARD_MARGIN_MM
    tab = rectangle((-BOARD_MARGIN_MM / 2.0, 0.0), (BOARD_MARGIN_MM / 2.0, edge + BOARD_MARGIN_MM))
    solid = upright(disc(edge) + tab, -settings.board_mm, 0.0) + rim
    if case.riser_mm > GROUND_MM and len(case.riser_outline):
        solid += upright(_riser(case), middle, case.riser_mm)
    return solid


def _riser(case: CaseResult) -> manifold3d.CrossSection:
    """Return the riser's section, without the dust of the scan's edge.

    Shrunk and grown again by a little less: what only touches comes apart, hairs go.
    """
    outline = manifold3d.CrossSection(
        [outline.copy() for outline in case.riser_outline], manifold3d.FillRule.Positive
    )
    eroded = outline.offset(-HAIR_MM, manifold3d.JoinType.Miter)
    opened = eroded.offset(HAIR_MM - OUTLINE_STEP_MM, manifold3d.JoinType.Miter)
    return opened.simplify(OUTLINE_STEP_MM)
