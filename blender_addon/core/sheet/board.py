"""The base board and the riser on it, drawn from above with the back at the top."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.parts import BOARD_MARGIN_MM, FOOT_RIM_WIDE_MM
from ..constants.scan import LEAST_FOOT_MM2
from ..geometry.convex import area_mm2, centroid_mm
from ..units import length_text
from .drawing import Circle, Line, Polygon, Text, drawing_of

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from .drawing import Drawing, Shape

WOOD = (0.93, 0.93, 0.93)
CROSS_MM = 6.0

OPPOSITE_THE_CHANNEL, BEST_SIDE_COSINE = np.array([0.0, -1.0]), 0.999
"""Where the front of the case looks; turned from it by less than 2.5 degrees, nothing is drawn."""


def board_drawing(case: CaseResult, *, inches: bool = False) -> Drawing:
    """Return the board with the ring that the case stands on, the riser and the channel.

    Parameters
    ----------
    case : CaseResult
        In the job frame, as it is drawn.
    inches : bool
        Whether its words give inches.
    """
    inside, outside = case.bore.outline_mm, case.bore.offset(case.wall_mm).outline_mm
    edge = case.bore.offset(case.wall_mm + FOOT_RIM_WIDE_MM + BOARD_MARGIN_MM).outline_mm
    top = float(edge[:, 1].max())
    low = -float(case.bore.reaches_mm([[0.0, 0.0]], [OPPOSITE_THE_CHANNEL])[0])
    across, along = np.ptp(outside, axis=0).tolist()
    size = length_text(across, inches=inches)
    if not case.bore.is_round:
        size += f" by {length_text(along, inches=inches)}"
    shapes: list[Shape] = [
        Polygon((outside, inside), WOOD),
        Line(edge, "cut", closed=True),
        Line(outside, "thin", closed=True),
        Line(inside, "thin", closed=True),
        *_riser(case),
        *_cross(),
        Circle(case.channel_at_mm, case.channel_mm / 2.0, "center"),
        Text((case.channel_at_mm[0], case.channel_at_mm[1] - 1.5), "pour here", 3.5, "middle"),
        *_arrow((0.0, top)),
        Text((0.0, top + 12.0), "BACK", 5.0, "middle", bold=True),
        Text((0.0, low + 4.0), "FRONT", 4.0, "middle", bold=True),
        *_best_side(case),
        Text((0.0, float(edge[:, 1].min()) - 5.0), f"Gray: foot of the case, outside {size}", 3.5,
             "middle"),
    ]  # fmt: skip
    return drawing_of("base_board", "Base board, seen from above", shapes)


def _best_side(case: CaseResult) -> list[Shape]:
    """Return an arrow to where the piece's best side looks, where that is not the front."""
    way = np.array(case.front)
    if way @ OPPOSITE_THE_CHANNEL > BEST_SIDE_COSINE:
        return []
    tip = (case.bore.reaches_mm([[0.0, 0.0]], [way])[0] - 3.0) * way
    turn_deg = float(np.degrees(np.arctan2(way[1], way[0])))
    upside_down = abs(turn_deg) > 90.0
    foot = tip - 14.0 * way + 1.5 * np.array([-way[1], way[0]])
    return [
        Line(np.array([tip - 12.0 * way, tip]), "heavy"),
        Text((float(foot[0]), float(foot[1])), "best side", 3.5,
             "start" if upside_down else "end", turn_deg + 180.0 * upside_down),
    ]  # fmt: skip


def riser_drawing(case: CaseResult, *, inches: bool = False) -> Drawing | None:
    """Return the riser alone, to saw from a thin sheet; None where the piece has none."""
    if not any(_is_wood(one) for one in case.riser_outline) or case.riser_mm <= 0.0:
        return None
    back = max(float(one[:, 1].max()) for one in case.riser_outline)
    x = float(np.mean([one[:, 0].mean() for one in case.riser_outline]))
    words = f"Thickness {length_text(case.riser_mm, inches=inches)}"
    shapes: list[Shape] = [
        *_riser(case),
        *_arrow((x, back + 1.0)),
        Text((x, back + 13.0), f"BACK  ·  {words}", 3.5, "middle", bold=True),
    ]
    return drawing_of("riser", "Riser, seen from above", shapes)


def _is_wood(outline: Floats) -> bool:
    """Tell outer outlines that can be sawn from holes and specks."""
    return area_mm2(outline) >= LEAST_FOOT_MM2


def _riser(case: CaseResult) -> list[Shape]:
    kept = [one for one in case.riser_outline if abs(area_mm2(one)) >= LEAST_FOOT_MM2]
    names = [Text(centroid_mm(one), "riser", 3.5, "middle") for one in kept if _is_wood(one)]
    return [*(Line(one, "cut", closed=True) for one in kept), *names[:1]]


def _cross() -> list[Shape]:
    ends = CROSS_MM * np.array([[[-1.0, 0.0], [1.0, 0.0]], [[0.0, -1.0], [0.0, 1.0]]])
    return [Line(one, "thin") for one in ends]


def _arrow(at: tuple[float, float]) -> list[Shape]:
    x, y = at
    return [
        Line(np.array([[x, y], [x, y + 9.0]]), "thin"),
        Polygon((np.array([[x - 2.0, y + 6.0], [x + 2.0, y + 6.0], [x, y + 11.0]]),), (0, 0, 0)),
    ]
