"""The funnel as a card pattern: bands with flaps to glue, and the hooks that hold it on the rim."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.parts import LEAST_JAW_MM
from ..constants.sheet import CARD_FLAP_MM, CARD_HOOK_DROP_MM, CARD_HOOK_MM, CARD_TAB_MM
from ..funnel.card import card_bands, carded
from .drawing import Line, Text, drawing_of
from .letters import width_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..funnel.card import CardBand
    from ..funnel.result import FunnelResult
    from .drawing import Drawing, Shape

TITLES = {
    "throat": "Card funnel: throat",
    "cone": "Card funnel: cone",
    "wall": "Card funnel: wall of the bowl",
}
EDGES = {
    "throat": ("", "Glue the tabs under the cone"),
    "cone": ("Throat", "Wall of the bowl"),
    "wall": ("Glue the tabs under the cone", ""),
}
"""What the lower and the upper edge of each band meet; where there are words, tabs stand there."""

LOW_BAND_MM = 12.0


def card_pattern(case: CaseResult, funnel: FunnelResult) -> tuple[Drawing, ...]:
    """Return the pieces of card of the funnel, printed side out, at true size.

    Parameters
    ----------
    case : CaseResult
        Whose rim the hooks go over.
    funnel : FunnelResult
    """
    funnel = carded(funnel)
    bands = card_bands(funnel)
    drawings = []
    for k, band in enumerate(bands):
        alike = [one for one, other in enumerate(bands) if other.name == band.name]
        number = alike.index(k) + 1 if len(alike) > 1 else 0
        drawings.append(_band_drawing(band, number))
    hooks = _hooks(case, funnel)
    if hooks:
        drawings.append(drawing_of("funnel_hooks", "Card funnel: two hooks", hooks))
    return tuple(drawings)


def _band_drawing(band: CardBand, number: int) -> Drawing:
    """Return a band's drawing; ``number`` counts those of one name from 1, 0 if there is one."""
    turn = _best_turn(np.vstack([band.low_mm, band.high_mm])) if band.name == "cone" else np.eye(2)
    low, high = band.low_mm @ turn.T, band.high_mm @ turn.T
    at_low, at_high = band.name == "wall", band.name == "throat"
    shapes: list[Shape] = [
        Line(low, "fold" if at_low else "cut"),
        Line(high, "fold" if at_high else "cut"),
        Line(np.stack([low[0], high[0]]), "cut"),
        Line(np.stack([low[-1], high[-1]]), "fold"),
        *_flap(low[-2:], high[-2:]),
        *(Line(np.stack([low[k], high[k]]), "faint") for k in np.flatnonzero(band.bent)),
    ]
    if at_high:
        shapes += _tabs(high, 1.0)
    if at_low:
        shapes += _tabs(low, -1.0)
    title = TITLES[band.name] + (f" {number}" if number else "")
    shapes += _names(band.name, title, low, high)
    name = f"funnel_{band.name}" + (f"_{number}" if number else "")
    return drawing_of(name, title, shapes)


def _best_turn(points: Floats) -> Floats:
    """Return the turn (2, 2) after which points fill the lowest box."""

    def turn(degrees: float) -> Floats:
        c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        return np.array([[c, -s], [s, c]])

    turns = [turn(degrees) for degrees in range(0, 180, 3)]
    return min(turns, key=lambda one: float(np.prod(np.ptp(points @ one.T, axis=0))))


def _flap(low: Floats, high: Floats) -> list[Shape]:
    """Return the flap beyond the end of a band, its corners cut so that it hides."""
    rung = high[1] - low[1]
    way = np.array([rung[1], -rung[0]]) / np.linalg.norm(rung)
    inset = min(3.0, float(np.linalg.norm(rung)) / 4.0) * rung / np.linalg.norm(rung)
    out = CARD_FLAP_MM * way
    points = np.stack([low[1], low[1] + out + inset, high[1] + out - inset, high[1]])
    return [Line(points, "cut")]


def _tabs(edge: Floats, side: float) -> list[Shape]:
    """Return tabs along a straight edge, narrower outside, so that they fit round a bend."""
    start, end = float(edge[0, 0]), float(edge[-1, 0])
    y, count = float(edge[0, 1]), max(round((end - start) / CARD_TAB_MM), 3)
    step, deep = (end - start) / count, side * CARD_FLAP_MM
    shapes: list[Shape] = []
    for k in range(count):
        a, b = start + k * step, start + (k + 1) * step
        tab = [[a, y], [a + step / 4.0, y + deep], [b - step / 4.0, y + deep], [b, y]]
        shapes.append(Line(np.array(tab), "cut"))
    return shapes


def _names(name: str, title: str, low: Floats, high: Floats) -> list[Shape]:
    """Return the band's name and what its edges meet, along its middle."""
    between = (low + high) / 2.0
    along = np.append(0.0, np.cumsum(np.linalg.norm(np.diff(between, axis=0), axis=1)))
    half = float(along[-1]) / 2.0
    k = int(np.abs(along - half).argmin())
    middle = np.array([np.interp(half, along, between[:, axis]) for axis in (0, 1)])
    rung = high[k] - low[k]
    turn_deg = float(np.degrees(np.arctan2(-rung[0], rung[1])))
    room = float(np.linalg.norm(rung))
    words = _words_of(name, title, low=room < LOW_BAND_MM)
    fits = 1.8 * half / max(width_mm(one, 1.0, bold=True) for one in words)
    size = min(3.5, 0.6 * room / (1.4 * len(words)), fits)
    up = rung / room
    return [
        Text(_spot(middle + up * size * (0.7 * (len(words) - 1) - 1.4 * row - 0.35)), one, size,
             "middle", turn_deg, bold=row == 0)
        for row, one in enumerate(words)
    ]  # fmt: skip


def _words_of(name: str, title: str, *, low: bool) -> list[str]:
    """Return the lines on a band: all in one on a low band, so that they can still be read."""
    edges = [one for one in EDGES[name] if one]
    if name == "cone":
        ways = ("inner edge", "outer edge")
        edges = [f"{way}: {one.lower()}" for way, one in zip(ways, edges, strict=True)]
    words = [title.partition(": ")[2].upper(), *edges]
    return ["  \xb7  ".join(words)] if low else words


def _spot(point: Floats) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _hooks(case: CaseResult, funnel: FunnelResult) -> list[Shape]:
    """Return two strips: glued to the throat, bent over the rim, down the outside of the case."""
    dip = case.height_mm - funnel.throat_bottom_z_mm
    if dip < LEAST_JAW_MM:
        return []
    way = np.array(funnel.way_to_wall)
    nearest = funnel.throat_outline_mm[(funnel.throat_outline_mm @ way).argmax()]
    over = float(case.bore.reaches_mm([nearest], [way])[0]) + case.wall_mm + 1.0
    levels = np.cumsum([0.0, min(dip - 1.0, 12.0), over, CARD_HOOK_DROP_MM])
    shapes: list[Shape] = []
    for left in (0.0, CARD_HOOK_MM + 8.0):
        right, middle = left + CARD_HOOK_MM, left + CARD_HOOK_MM / 2.0
        box = np.array([[left, 0.0], [right, 0.0], [right, levels[-1]], [left, levels[-1]]])
        shapes.append(Line(box, "cut", closed=True))
        shapes += [Line(np.array([[left, y], [right, y]]), "fold") for y in levels[1:3].tolist()]
        words = ("glue to throat", "over the rim", "down outside")
        heights = (levels[:-1] + levels[1:]) / 2.0
        shapes += [
            Text((middle, float(y) - 1.0), one, 2.6, "middle")
            for y, one in zip(heights, words, strict=True)
        ]
    return shapes
