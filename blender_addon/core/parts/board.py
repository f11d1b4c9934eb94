"""The base board: the riser stands on it, a groove and a rim hold the foot of the case."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.common import GROUND_MM
from ..constants.funnel import CONE_FROM_UPRIGHT_DEG
from ..constants.parts import (
    ARROW_MM,
    BOARD_MARGINS_MM,
    EDGE_CHAMFER_MM,
    FOOT_RIM_MM,
    FOOT_RIM_WIDE_MM,
    HAIR_MM,
    LEAST_FLOOR_MM,
    OUTLINE_STEP_MM,
    SEAM_WAX_MM,
)
from ..errors import BadSettingError
from ..sentences import a_length
from .bed import bed_of
from .outlines import filled, grown, swept, way_out_mm
from .rounds import upright
from .split import foot_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from .settings import PartsSettings


def base_board(case: CaseResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return board, groove, rim and riser as one solid, in the job frame: the board's top is z = 0.

    An arrow that stands out from its edge marks the back, where the funnel goes.

    Raises
    ------
    BadSettingError
        If the groove leaves too thin a floor.
    """
    bore, foot = case.bore.outline_mm, foot_mm(case, settings)
    if foot and settings.board_mm - foot < LEAST_FLOOR_MM:
        message = (
            f"a groove of {a_length(foot)} leaves less than {a_length(LEAST_FLOOR_MM)} of a"
            f" board of {a_length(settings.board_mm)}. Take a thicker parts.board_mm."
        )
        raise BadSettingError("parts.groove_mm", message)
    middle = -(settings.board_mm + foot) / 2.0
    solid = board_plate(case, settings) + swept(bore, _rim_profile(case, settings, middle))
    if foot:
        room = (-settings.fit_mm, -foot), (case.wall_mm + settings.fit_mm, -foot)
        above = (case.wall_mm + settings.fit_mm, 1.0), (-settings.fit_mm, 1.0)
        solid -= swept(bore, [*room, *above])
    if case.riser_mm > GROUND_MM and len(case.riser_outline):
        solid += upright(_riser(case), middle, case.riser_mm)
    return solid


def _outlines(case: CaseResult, settings: PartsSettings) -> tuple[Floats, Floats]:
    """Return the board's outline and its arrow's, with as much margin as lets it stay in one.

    A board in one piece leaks nowhere; where even the least margin does not help, it has the usual.
    """
    bed, margins = bed_of(settings), (*BOARD_MARGINS_MM, BOARD_MARGINS_MM[0])
    half = ARROW_MM / 2.0
    for margin in margins:
        out = case.wall_mm + settings.fit_mm + FOOT_RIM_WIDE_MM + margin
        outline = grown(case.bore.outline_mm, out)
        tip = way_out_mm(outline, np.zeros(2), np.array([0.0, 1.0])) + ARROW_MM
        arrow = [(-half, 0.0), (half, 0.0), (half, tip - half), (0.0, tip), (-half, tip - half)]
        if bed.turn_deg(np.vstack([outline, arrow])) is not None:
            break
    return outline, np.array(arrow)


def board_plate(case: CaseResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return the plain board with its arrow; edges are broken above and below."""
    profile = _edge_profile(settings.board_mm)
    outline, arrow = _outlines(case, settings)
    return filled(outline, profile) + filled(arrow, profile)


def _edge_profile(board_mm: float) -> list[tuple[float, float]]:
    broken = min(EDGE_CHAMFER_MM, board_mm / 4.0)
    up = broken / math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))
    up = min(up, board_mm / 3.0)
    return [(-broken, -board_mm), (0.0, -board_mm + up), (0.0, -up), (-broken, 0.0)]


def _rim_profile(
    case: CaseResult, settings: PartsSettings, middle_mm: float
) -> list[tuple[float, float]]:
    """Return the rim round the foot, with a trough inside for a bead of wax."""
    inner = case.wall_mm + settings.fit_mm
    outer, broken = inner + FOOT_RIM_WIDE_MM, EDGE_CHAMFER_MM
    return [
        (inner, middle_mm),
        (outer, middle_mm),
        (outer, FOOT_RIM_MM - broken),
        (outer - broken, FOOT_RIM_MM),
        (inner + SEAM_WAX_MM, FOOT_RIM_MM),
        (inner, FOOT_RIM_MM - SEAM_WAX_MM),
    ]


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
