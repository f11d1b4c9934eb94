"""The curve of the back-fill: how much still goes in, by how far below the rim it stands."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants import MM_PER_INCH
from .blocks import Figure
from .drawing import Drawing, Line, Text

if TYPE_CHECKING:
    from ..arrays import Floats
    from .drawing import Shape

WIDE_MM, HIGH_MM, LEFT_MM, LOW_MM = 150.0, 80.0, 18.0, 13.0


def fill_plot(table: Floats, *, inches: bool = False) -> Figure:
    """Return the curve over a grid that can be read off with a ruler.

    Parameters
    ----------
    table : ndarray, shape (n, 2)
        mm below the rim, ml still to fill.
    inches : bool
        Whether the axis is in inches.
    """
    unit_mm, unit = (MM_PER_INCH, "in") if inches else (1.0, "mm")
    across, up = table[:, 0] / unit_mm, table[:, 1]
    x_step, y_step = round_step(float(across.max())), round_step(float(up.max()))
    x_end = max(math.ceil(float(across.max()) / x_step - 1e-9), 1) * x_step
    y_end = max(math.ceil(float(up.max()) / y_step - 1e-9), 1) * y_step
    shapes: list[Shape] = []
    for value in np.arange(0.0, x_end + x_step / 2.0, x_step).tolist():
        x = LEFT_MM + value / x_end * WIDE_MM
        shapes += [
            Line(np.array([[x, LOW_MM], [x, LOW_MM + HIGH_MM]]), "faint"),
            Text((x, LOW_MM - 4.0), f"{value:g}", 3.0, "middle"),
        ]
    for value in np.arange(0.0, y_end + y_step / 2.0, y_step).tolist():
        y = LOW_MM + value / y_end * HIGH_MM
        shapes += [
            Line(np.array([[LEFT_MM, y], [LEFT_MM + WIDE_MM, y]]), "faint"),
            Text((LEFT_MM - 1.5, y - 1.0), f"{value:g}", 3.0, "end"),
        ]
    curve = np.column_stack([LEFT_MM + across / x_end * WIDE_MM, LOW_MM + up / y_end * HIGH_MM])
    shapes += [
        Line(curve, "cut"),
        Text((LEFT_MM + WIDE_MM / 2.0, LOW_MM - 9.0), f"{unit} below the rim", 3.2, "middle"),
        Text((4.0, LOW_MM + HIGH_MM / 2.0), "ml still to fill", 3.2, "middle", 90.0),
    ]
    size = LEFT_MM + WIDE_MM + 6.0, LOW_MM + HIGH_MM + 3.0
    drawing = Drawing("fill_plot", "Filling", tuple(shapes), (0.0, 0.0), size)
    return Figure(drawing, "Mold upside down: measure down from its rim, read what still goes in")


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
