"""Words of a drawing beside the joints of its sheets, where these would cut them."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import JOIN_MARK_MM
from .drawing import Drawing, Text

if TYPE_CHECKING:
    from .drawing import Spot

GAP_MM = 1.5


def clear_of_joints(drawing: Drawing, cell_mm: Spot) -> Drawing:
    """Return a drawing whose words keep clear of the joints, where there is room beside them.

    Parameters
    ----------
    drawing : Drawing
    cell_mm : tuple
        Width and height of what one sheet shows, from the upper left corner on.

    Examples
    --------
    >>> word = Text((100.0, 50.0), "BACK", 5.0, "middle")
    >>> board = Drawing("board", "Board", (word,), (0.0, 0.0), (200.0, 100.0))
    >>> float(clear_of_joints(board, (100.0, 60.0)).shapes[0].ends_mm[:, 0].min())
    101.5
    >>> clear_of_joints(board, (200.0, 100.0)).shapes[0].at_mm
    (100.0, 50.0)
    """
    shapes = tuple(
        _beside(_beside(one, 0, drawing, cell_mm), 1, drawing, cell_mm)
        if isinstance(one, Text)
        else one
        for one in drawing.shapes
    )
    return dataclasses.replace(drawing, shapes=shapes)


def _beside(text: Text, axis: int, drawing: Drawing, cell_mm: Spot) -> Text:
    """Return words that no joint across an axis cuts, moved along it as little as need be."""
    start, end, cell = drawing.low_mm[axis], drawing.high_mm[axis], cell_mm[axis]
    low, high = (float(one) for one in np.quantile(text.ends_mm[:, axis], [0.0, 1.0]))
    for joint in np.arange(start + cell, end - GAP_MM, cell).tolist():
        if low - GAP_MM < joint < high + GAP_MM:
            gap = GAP_MM + (JOIN_MARK_MM if _is_at_mark(text, axis, drawing, cell_mm) else 0.0)
            ways = sorted((joint + gap - low, joint - gap - high), key=abs)
            ways = [one for one in ways if start <= low + one and high + one <= end]
            return _shifted(text, axis, ways[0]) if ways else text
    return text


def _shifted(text: Text, axis: int, by_mm: float) -> Text:
    x, y = text.at_mm
    return dataclasses.replace(text, at_mm=(x + by_mm, y) if axis == 0 else (x, y + by_mm))


def _is_at_mark(text: Text, axis: int, drawing: Drawing, cell_mm: Spot) -> bool:
    """Tell whether words come as near to the mark of a joint, in the middle of each sheet's."""
    along = 1 - axis
    ends = text.ends_mm[:, along] - drawing.low_mm[along]
    off = np.mod(ends.mean(), cell_mm[along]) - cell_mm[along] / 2.0
    return bool(abs(off) < JOIN_MARK_MM + np.ptp(ends) / 2.0)
