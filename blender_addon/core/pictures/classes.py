"""The classes of the brush map as they are shown: one a face, each with its colour."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Ints
    from ..bubbles.result import BubblesResult

CLASS_COLORS = {
    "Plain": (0.60, 0.55, 0.48),
    "Painted": (0.45, 0.92, 0.95),
    "Brush Margin": (0.87, 0.75, 0.05),
    "Narrow": (0.00, 0.17, 0.60),
    "Clinging": (0.60, 0.19, 0.39),
    "Trapped Air": (0.75, 0.05, 0.01),
}
"""Linear red, green and blue, the gravest class last. They differ in lightness as well as in hue,
so that those who see no red or no green can tell them apart."""

THICKNESS_COLORS = {
    "Thin Rubber": (0.62, 0.05, 0.02),
    "Enough Rubber": (0.93, 0.72, 0.16),
    "More Rubber": (0.13, 0.50, 0.46),
    "Most Rubber": (0.05, 0.06, 0.30),
}
"""Linear red, green and blue, thin to thick; lightness alone tells neighbours apart."""


def shown_classes(bubbles: BubblesResult) -> Ints:
    """Return for each face (m,) the number of the class in `CLASS_COLORS`: of several, the gravest.

    What is not to be brushed is plain, even where air is trapped: the maker took it off.
    """
    shown = np.zeros(len(bubbles.prebrush), dtype=np.int64)
    trapped = bubbles.trapped_depth_mm > 0.0
    kinds = (bubbles.prebrush, bubbles.computed, bubbles.narrow, bubbles.clinging, trapped)
    for number, faces in enumerate(kinds, start=1):
        shown[faces] = number
    shown[~bubbles.prebrush] = 0
    return shown
