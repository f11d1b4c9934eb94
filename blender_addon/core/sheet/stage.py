"""The sheet stage: templates at true size."""

from __future__ import annotations

from typing import TYPE_CHECKING

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
    """Return every drawing that goes to the bench at true size; pages and pictures follow from it.

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
    templates = templates_of(case, funnel, cut, inches=settings.inches)
    watch.at(0.9)
    return SheetResult(templates, settings.paper, case, cut)
