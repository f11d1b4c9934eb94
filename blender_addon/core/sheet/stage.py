"""The sheet stage: templates at true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .cut_views import cut_figures, cut_views_drawing
from .packing import pages_of, sheets_of
from .result import SheetResult
from .templates import templates_of

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..cut.result import CutResult
    from ..funnel.result import FunnelResult
    from ..watch import Watch
    from .settings import SheetSettings


def sheet_stage(
    case: CaseResult, funnel: FunnelResult, cut: CutResult, settings: SheetSettings, watch: Watch
) -> SheetResult:
    """Return every drawing that goes to the bench, at true size but for pictures, on pages.

    Parameters
    ----------
    case : CaseResult
        Tube, board and riser.
    funnel : FunnelResult
        For its card pattern.
    cut : CutResult
        For the knife's line and its pictures.
    settings : SheetSettings
        Paper and units.
    watch : Watch
        Told of progress.
    """
    figures = cut_figures(case, cut)
    watch.at(0.4)
    templates = templates_of(case, funnel, cut, inches=settings.inches)
    drawings = (*templates, *cut_views_drawing(figures))
    watch.at(0.7)
    sheets = tuple(sheets_of(one, settings.paper) for one in drawings)
    return SheetResult(drawings, sheets, pages_of(drawings, settings.paper), figures)
