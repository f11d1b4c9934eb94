"""The pour in time: when the rising rubber closes each pocket of air."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .amount import rubber_below_ml
from .result import Closing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..bubbles.result import Pocket
    from ..case.result import CaseResult


def closings_of(pockets: Sequence[Pocket], case: CaseResult) -> tuple[Closing, ...]:
    """Return when each pocket closes, the first one first.

    A pocket closes when the rubber stands at its saddle: until then its air can still be tapped,
    brushed or blown out. What has no way out is shut from the start and not told of. The turn of
    the master about z changes no height.

    Parameters
    ----------
    pockets : sequence of Pocket
        Their numbers are told in ``Closing.pocket``.
    case : CaseResult
        What the rubber fills.
    """
    levels = np.array([pocket.escape_at_mm[2] for pocket in pockets])
    open_ones = [k for k, pocket in enumerate(pockets) if pocket.kind == "underside"]
    order = np.array(sorted(open_ones, key=levels.__getitem__), dtype=np.int64)
    poured = rubber_below_ml(case, levels[order])
    return tuple(
        Closing(int(pocket), float(levels[pocket]), float(ml))
        for pocket, ml in zip(order, poured, strict=True)
    )
