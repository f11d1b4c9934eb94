"""The parts stage: case, board and funnel as solids to print."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import DUST_MM
from ..geometry.manifold import to_mesh
from .board import base_board
from .case import case_back, case_front
from .check import checked_part
from .funnel import funnel_solid
from .result import PartsResult

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from ..watch import Watch
    from .settings import PartsSettings

AS_IT_STANDS = np.eye(4)
UPSIDE_DOWN = np.diag([1.0, -1.0, -1.0, 1.0])
"""Half a turn about x: flanges, bowl and hook then grow from what is printed before them."""


def parts_stage(
    case: CaseResult, funnel: FunnelResult, settings: PartsSettings, watch: Watch
) -> PartsResult:
    """Return every part to print; the halves of the case also where a stock tube would do.

    Parameters
    ----------
    case : CaseResult
        The tube, its height and the riser's outline.
    funnel : FunnelResult
        The funnel's measures.
    settings : PartsSettings
        Clearances, board, flanges and bolts.
    watch : Watch
        Told of progress.

    Returns
    -------
    PartsResult
        Each part lies as it is printed, without supports.

    Raises
    ------
    BadSettingError
        If flanges or bolts do not fit the case.
    OpenPartError
        If a part is not one closed solid.
    """
    back = case_back(case, settings)
    watch.at(0.3)
    solids = (
        ("case back", "case", back, UPSIDE_DOWN),
        ("case front", "case", case_front(back), UPSIDE_DOWN),
        ("base board", "base", base_board(case, settings), AS_IT_STANDS),
        ("funnel", "funnel", funnel_solid(case, funnel, settings), UPSIDE_DOWN),
    )
    watch.at(0.7)
    return PartsResult(
        tuple(
            checked_part(name, role, to_mesh(solid.simplify(DUST_MM)), pose)
            for name, role, solid, pose in solids
        )
    )
