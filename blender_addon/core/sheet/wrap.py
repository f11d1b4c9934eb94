"""The template that is wrapped round a found tube: where to saw it off, and where to split it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import PAPER_MM, WRAP_FLAP_MM
from ..sentences import in_unit
from ..units import length_text
from .drawing import Line, Polygon, Text, drawing_of
from .letters import lines_of

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .drawing import Drawing, Shape

SIZE_MM, ASIDE_MM, WORDS_MM = 3.5, 9.0, 90.0
"""Of the letters, how far from front and seam they stand, and the longest line of them."""

SHADE = (0.88, 0.88, 0.88)
QUARTERS = (
    (0.0, "FRONT", "center"),
    (0.25, "SEAM", "cut"),
    (0.5, "BACK", "center"),
    (0.75, "SEAM", "cut"),
)
"""Share of the girth from the front, to the right as one sees it from outside; what is there."""


def wrap_template(case: CaseResult, *, inches: bool = False) -> Drawing:
    """Return the outside of a round tube, unrolled: x along the girth from the front, y upward.

    Parameters
    ----------
    case : CaseResult
        A round one; its foot, y = 0, stands on the board.
    inches : bool
        Whether its words give inches.

    Returns
    -------
    Drawing
        As long as the girth, pi by the outside diameter, and a flap to glue.
    """
    outside = case.bore.inner_diameter_mm + 2.0 * case.wall_mm
    girth, height = math.pi * outside, case.height_mm
    edge = np.array([[0.0, 0.0], [girth, 0.0], [girth, height], [0.0, height]])
    shapes: list[Shape] = [
        _channel(case, girth),
        Line(edge[:2], "thin"),
        Line(edge[1:3], "fold"),
        Line(edge[2:], "heavy"),
        Line(edge[[3, 0]], "thin"),
        *_flap(girth, height),
    ]
    for share, word, kind in QUARTERS:
        x = share * girth
        if share:
            shapes.append(Line(np.array([[x, 0.0], [x, height]]), kind))
        shapes.append(Text((x + 5.0, 0.3 * height), word, 5.0, "middle", 90.0, bold=True))
    shapes += _words(case, outside, girth, inches=inches)
    return drawing_of("tube_wrap", "Wrap for the tube", shapes)


def _channel(case: CaseResult, girth: float) -> Shape:
    """Return the strip behind which the channel lies, over the whole height."""
    half = case.channel_mm / 2.0
    middle = math.atan2(case.channel_at_mm[0], case.channel_at_mm[1])
    x = girth * (0.5 - middle / (2.0 * math.pi))
    low, high = 0.0, case.height_mm
    box = np.array([[x - half, low], [x + half, low], [x + half, high], [x - half, high]])
    return Polygon((box,), SHADE)


def _flap(girth: float, height: float) -> list[Shape]:
    flap = girth + WRAP_FLAP_MM
    ends = np.array([[girth, 0.0], [flap, 3.0], [flap, height - 3.0], [girth, height]])
    return [
        Line(ends, "thin"),
        Text((girth + 6.5, height / 2.0), "Under the front edge", 3.5, "middle", 90.0),
    ]


def _words(case: CaseResult, outside: float, girth: float, *, inches: bool) -> list[Shape]:
    """Return what to do: over the first quarter of the girth and over the last, clear of joints."""
    height, across, once, half, gap = (
        length_text(one, inches=inches)
        for one in (case.height_mm, outside, girth, girth / 2.0, math.pi * PAPER_MM)
    )
    paper = length_text(PAPER_MM, "g", inches=inches)
    room = min(girth / 4.0 - 2.0 * ASIDE_MM, WORDS_MM)
    first = [
        f"SAW HERE: {height} over the board",
        "Square to the tube: the paper's edges must meet all round.",
        "Lower edge: foot of the tube, on the board.",
    ]
    last = [
        f"{in_unit(case.name, inches=inches)}, outside {across}",
        f"Once round {once}, seam to seam {half}.",
        "Gray: the pour channel is behind here.",
        "Saw both seams with a thin blade: its width is lost from front to back, off the channel.",
        f"Paper of {paper} leaves a gap of {gap} at the front; that is right.",
    ]
    shapes: list[Shape] = []
    # at either end of the wrap: no sheet is so narrow that a joint runs there
    for left, words in ((ASIDE_MM, first), (girth - room - ASIDE_MM, last)):
        y = case.height_mm - 3.0
        for row, one in enumerate(words):
            for line in lines_of(one, SIZE_MM, room, bold=not row):
                y -= 1.35 * SIZE_MM
                shapes.append(Text((left, y), line, SIZE_MM, bold=not row))
            y -= 0.5 * SIZE_MM
    return shapes
