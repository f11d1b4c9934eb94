"""The knife's line on the outside of the block, unrolled at true size, with depths beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..case.girth import around_mm
from ..constants.sheet import KNIFE_CARD_EDGE_MM
from ..units import length_text
from .drawing import Line, Text, drawing_of
from .wrap import QUARTERS

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..case.bore import Bore
    from ..case.result import CaseResult
    from ..cut.result import CutResult, KnifeDepth
    from .drawing import Drawing, Shape

SIZE_MM = 3.5


def knife_card(case: CaseResult, cut: CutResult, *, inches: bool = False) -> tuple[Drawing, ...]:
    """Return the knife's line to lay round the block, and of halves the line over its top.

    Parameters
    ----------
    case : CaseResult
        Its bore is the outside of the block.
    cut : CutResult
        Trace and depths.
    inches : bool
        Whether words give inches.

    Returns
    -------
    tuple of Drawing
        x along the girth from the front, to the right as one sees it from outside, y up from the
        block's underside; none where there is no trace.
    """
    trace = cut.zigzag_mm
    if len(trace) < 2:
        return ()
    level = case.level_z_mm
    on_top = trace[:, 2] >= level - 1e-6 if cut.kind == "two halves" else np.zeros(len(trace), bool)
    lines = _runs(trace, ~on_top)
    shapes: list[Shape] = []
    sides = ("left", "right") if len(lines) > 1 else ("slit",)
    for side, line in zip(sides, lines, strict=True):
        x = around_mm(case.bore, line[:, :2])
        shapes.append(Line(np.column_stack([x, line[:, 2]]), "heavy"))
        at, way = np.column_stack([x, line[:, 2]]), _clear_way(case.bore, x)
        shapes += _depths(cut, side, at, way, inches=inches)
    drawn = np.vstack([one.points_mm for one in shapes if isinstance(one, Line)])
    high = level if len(lines) > 1 else float(drawn[:, 1].max())
    shapes += _frame(case.bore, drawn, high, whole=len(lines) > 1)
    if cut.pull is not None and cut.pull.suction_n > 0.0:
        left = min(float(one.points_mm[:, 0].min()) for one in shapes if isinstance(one, Line))
        words = f"Let air in at the cut first; suction can hold up to {cut.pull.suction_n:.0f} N."
        shapes.append(Text((left + 2.0, -2.5 * SIZE_MM - 1.5), words, SIZE_MM))
    card = drawing_of("knife_card", "Knife line for the block", shapes)
    return (card, *_over_top(case, trace[on_top])) if on_top.any() else (card,)


def _runs(trace: Floats, chosen: Bools) -> list[Floats]:
    """Return the chosen points in unbroken lines."""
    edges = np.flatnonzero(np.diff(chosen.astype(np.int64)) != 0) + 1
    parts = np.split(np.arange(len(trace)), edges)
    return [trace[part] for part in parts if chosen[part[0]] and len(part) > 1]


def _clear_way(bore: Bore, x: Floats) -> float:
    """Return 1 to write right of a line, -1 to write left of it: away from the mark near it."""
    middle = float(np.mean(x))
    places = [_mark_mm(bore, share) for share, _, _ in QUARTERS]
    nearest = min(places, key=lambda one: abs(one - middle))
    return -1.0 if nearest > middle else 1.0


def _depths(cut: CutResult, side: str, line: Floats, way: float, *, inches: bool) -> list[Shape]:
    """Return a tick at each height that the knife's depth is told for, and the depth."""
    order = np.argsort(line[:, 1], kind="stable")
    shapes: list[Shape] = []
    told: list[KnifeDepth] = [one for one in cut.depths if one.side == side]
    for depth in told:
        beside = depth.z_mm + SIZE_MM * np.linspace(-1.0, 1.0, 9)
        x = way * float((way * np.interp(beside, line[order, 1], line[order, 0])).max())
        ends = np.array([[x + 4.0 * way, depth.z_mm], [x + 9.0 * way, depth.z_mm]])
        words = length_text(depth.depth_mm, inches=inches)
        y = max(depth.z_mm - SIZE_MM / 3.0, 1.0)  # clear of the underside
        anchor = "start" if way > 0.0 else "end"
        shapes += [Line(ends, "thin"), Text((x + 10.0 * way, y), words, SIZE_MM, anchor)]
    return shapes


def _frame(bore: Bore, drawn: Floats, high: float, *, whole: bool) -> list[Shape]:
    """Return the block's edges over the part of the girth that is shown, and where that is."""
    girth = bore.girth_mm
    low_x, high_x = float(drawn[:, 0].min()), float(drawn[:, 0].max())
    middle = (low_x + high_x) / 2.0
    nearest = min(QUARTERS, key=lambda one: abs(_mark_mm(bore, one[0]) - middle))
    marks = QUARTERS if whole else (nearest,)
    places = [_mark_mm(bore, share) for share, _, _ in marks]
    if whole:
        low_x, high_x = 0.0, girth
    left = min(low_x, *places) - KNIFE_CARD_EDGE_MM
    right = max(high_x, *places) + KNIFE_CARD_EDGE_MM
    shapes: list[Shape] = [
        Line(np.array([[left, 0.0], [right, 0.0]]), "cut"),
        Text((left + 2.0, -SIZE_MM - 1.5), "Underside of the block", SIZE_MM),
        Text((left + 2.0, high + 6.0), "Beside the line: how deep the knife goes.", SIZE_MM),
    ]
    for (_, word, kind), x in zip(marks, places, strict=True):
        shapes.append(Line(np.array([[x, 0.0], [x, high]]), kind))
        shapes.append(Text((x - 2.0, high / 2.0), word, SIZE_MM, "middle", 90.0, bold=True))
    return shapes


def _mark_mm(bore: Bore, share: float) -> float:
    """Return where front, seams and back lie along the girth."""
    ways = {0.0: (0.0, -1.0), 0.25: (1.0, 0.0), 0.5: (0.0, 1.0), 0.75: (-1.0, 0.0)}
    way = np.array([ways[share]])
    return float(around_mm(bore, bore.reaches_mm(np.zeros((1, 2)), way)[:, None] * way)[0])


def _over_top(case: CaseResult, line: Floats) -> tuple[Drawing, ...]:
    """Return the block from above with the line that the knife takes over it."""
    outline = Line(case.bore.outline_mm, "thin", closed=True)
    low = float(case.bore.outline_mm[:, 1].min())
    shapes: list[Shape] = [
        outline,
        Line(line[:, :2], "heavy"),
        Text((0.0, low + 4.0), "FRONT", SIZE_MM, "middle", bold=True),
    ]
    return (drawing_of("knife_top", "Knife line over the block", shapes),)
