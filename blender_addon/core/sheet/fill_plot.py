"""The curve of the back-fill: how much still goes in, by how far below the rim it stands."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import MM_PER_INCH
from ..constants.sheet import LEAST_FIGURE_SHARE
from .blocks import Figure
from .drawing import WHITE, Drawing, Line, Polygon, Text, rectangle

if TYPE_CHECKING:
    from ..arrays import Floats
    from .drawing import Shape

WIDE_MM, HIGH_MM, LEFT_MM, LOW_MM = 150.0, 80.0, 18.0, 13.0


def fill_plot(table: Floats, bare: Floats | None = None, *, inches: bool = False) -> Figure:
    """Return the curve over a grid that can be read off with a ruler.

    Parameters
    ----------
    table : ndarray, shape (n, 2)
        mm below the rim, ml still to fill.
    bare : ndarray, shape (k, 2), optional
        The same of the mold before its shell was turned: a second curve, dashed.
    inches : bool
        Whether the axis is in inches.
    """
    unit_mm, unit = (MM_PER_INCH, "in") if inches else (1.0, "mm")
    curves = [table / [unit_mm, 1.0]] + ([] if bare is None else [bare / [unit_mm, 1.0]])
    most = np.max([curve.max(axis=0) for curve in curves], axis=0)
    (x_end, across), (y_end, up) = (_axis(float(end)) for end in most)
    size = np.array([WIDE_MM, HIGH_MM]) / [x_end, y_end]
    lines = [
        Line(curve * size + [LEFT_MM, LOW_MM], kind)
        for curve, kind in zip(curves, ("cut", "fold"), strict=False)
    ]
    shapes: list[Shape] = [
        *_grid(across, up, size),
        *lines,
        Text((LEFT_MM + WIDE_MM / 2.0, LOW_MM - 9.0), f"{unit} below the rim", 3.2, "middle"),
        Text((4.0, LOW_MM + HIGH_MM / 2.0), "ml still to fill", 3.2, "middle", 90.0),
        *([] if bare is None else _legend()),
    ]
    page = LEFT_MM + WIDE_MM + 6.0, LOW_MM + HIGH_MM + 3.0
    drawing = Drawing("fill_plot", "Filling", tuple(shapes), (0.0, 0.0), page)
    caption = "Mold upside down: measure down from its rim, read what still goes in"
    return Figure(drawing, caption, LEAST_FIGURE_SHARE, wants_next=True)


def _axis(most: float) -> tuple[float, list[float]]:
    """Return where an axis ends, and the numbers along it."""
    step = round_step(most)
    count = max(math.ceil(most / step - 1e-9), 1)
    return count * step, (np.arange(count + 1) * step).tolist()


def _grid(across: list[float], up: list[float], size: Floats) -> list[Shape]:
    shapes: list[Shape] = []
    for value in across:
        x = LEFT_MM + value * float(size[0])
        shapes += [
            Line(np.array([[x, LOW_MM], [x, LOW_MM + HIGH_MM]]), "faint"),
            Text((x, LOW_MM - 4.0), f"{value:g}", 3.0, "middle"),
        ]
    for value in up:
        y = LOW_MM + value * float(size[1])
        shapes += [
            Line(np.array([[LEFT_MM, y], [LEFT_MM + WIDE_MM, y]]), "faint"),
            Text((LEFT_MM - 1.5, y - 1.0), f"{value:g}", 3.0, "end"),
        ]
    return shapes


def _legend() -> list[Shape]:
    """Say which curve is which, at the upper left: no curve that rises gets there."""
    low, high = (LEFT_MM + 2.0, LOW_MM + HIGH_MM - 14.5), (LEFT_MM + 44.0, LOW_MM + HIGH_MM - 1.0)
    shapes: list[Shape] = [Polygon((rectangle(low, high),), WHITE)]
    for row, (words, kind) in enumerate((("inside the shell", "cut"), ("bare mold", "fold"))):
        y = LOW_MM + HIGH_MM - 6.0 - 6.0 * row
        ends = np.array([[LEFT_MM + 4.0, y + 1.0], [LEFT_MM + 16.0, y + 1.0]])
        shapes += [Line(ends, kind), Text((LEFT_MM + 18.0, y), words, 3.2)]
    return shapes


def round_step(most: float) -> float:
    """Return a round step of which about six to twelve reach the most.

    Examples
    --------
    >>> round_step(102.0), round_step(838.0), round_step(4.1)
    (10.0, 100.0, 0.5)
    """
    if most <= 0.0:
        return 1.0
    ten = 10.0 ** math.floor(math.log10(most / 6.0))
    return ten * next(one for one in (1.0, 2.0, 5.0, 10.0) if most / (one * ten) <= 12.0)
