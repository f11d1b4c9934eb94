"""All drawings at true size that a layout hands out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..case.case import STOCK
from .board import board_drawing, riser_drawing
from .card import card_pattern
from .knife_card import knife_card
from .wrap import wrap_template

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..cut.result import CutResult
    from ..funnel.result import FunnelResult
    from .drawing import Drawing


def templates_of(
    case: CaseResult, funnel: FunnelResult, cut: CutResult, *, inches: bool = False
) -> tuple[Drawing, ...]:
    """Return the wrap of a found tube, board, riser, the funnel's pattern and the knife's line.

    Parameters
    ----------
    case : CaseResult
    funnel : FunnelResult
    cut : CutResult
    inches : bool
        Whether their words give inches.
    """
    found = case.kind == STOCK
    drawings = [wrap_template(case, inches=inches)] if found else []
    drawings.append(board_drawing(case, inches=inches))
    if riser := riser_drawing(case, inches=inches):
        drawings.append(riser)
    return (*drawings, *card_pattern(case, funnel), *knife_card(case, cut, inches=inches))
