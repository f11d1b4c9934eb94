"""The headlines in large letters in the 3D view, to be read from the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import blf
import bpy

from .fill_curve import draw_fill_curve
from .headlines import headlines, named
from .legend import LEGEND_PT, draw_legend, legend_of, legend_px
from .mark import draw_mark
from .room import clear_px, fitting
from .shortened import shortened
from .stretch_curve import draw_stretch_curve

if TYPE_CHECKING:
    from mathutils import Color

LARGEST_PT, LETTERS_PT = 38, 20
"""Of the number that costs most when it is wrong, the rubber to weigh, and of the others."""

LINE = 1.45
MARGIN = 20
"""Pixels beside the letters."""

HIGHEST_SHARE = 0.3
"""Of the view's height that the letters take: the piece is to be seen over them."""

OVER_EDGE = 62
"""Pixels over the lower edge: Blender shows the last operation there."""

COLOR = (0.95, 0.95, 0.95, 1.0)
SHADOW = (0.0, 0.0, 0.0, 0.9)
FONT = 0  # Blender's own


class Overlay:
    """The draw handler, and its removal."""

    def __init__(self) -> None:
        self._handle: object = None

    def add(self) -> None:
        """Draw from now on."""
        space = bpy.types.SpaceView3D
        self._handle = space.draw_handler_add(_draw, (), "WINDOW", "POST_PIXEL")

    def remove(self) -> None:
        """Draw no more."""
        if self._handle is not None:
            bpy.types.SpaceView3D.draw_handler_remove(self._handle, "WINDOW")
            self._handle = None


overlay = Overlay()


def _draw() -> None:
    context = bpy.context
    scale = context.preferences.system.ui_scale
    if not (context.space_data.overlay.show_overlays and context.scene.riseline.results.token):
        return
    draw_fill_curve(context, scale)
    draw_stretch_curve(context, scale)
    letters = letters_in(context, context.area)
    if letters is None:
        return
    draw_mark(context, scale)
    y = letters.low
    blf.enable(FONT, blf.SHADOW)
    blf.shadow(FONT, 3, *SHADOW)
    blf.color(FONT, *COLOR)
    for size_pt, text in letters.lines:
        blf.size(FONT, size_pt * letters.scale)
        blf.position(FONT, letters.left, y, 0)
        blf.draw(FONT, text)
        y += LINE * size_pt * letters.scale
    draw_legend(letters.legend, letters.left, y, letters.scale)
    blf.disable(FONT, blf.SHADOW)


@dataclass(frozen=True)
class Letters:
    """What is written into a view, from where on, and at what scale it fits; all in pixels."""

    lines: list[tuple[int, str]]
    legend: list[tuple[str, Color]]
    scale: float
    left: float
    low: float

    @property
    def top(self) -> float:
        """How high up the view they reach."""
        return self.low + size_px(self.lines, self.legend, self.scale)[1]


def letters_in(context: bpy.types.Context, area: bpy.types.Area) -> Letters | None:
    """Return what is written into a 3D view, or None where that is switched off."""
    stored, scale = context.scene.riseline, context.preferences.system.ui_scale
    if not (stored.shows_numbers and stored.results.token):
        return None
    view = next(one for one in area.regions if one.type == "WINDOW")
    left, right = clear_px(area.regions)
    x, y = left + MARGIN * scale, OVER_EDGE * scale
    room = right - x - MARGIN * scale, HIGHEST_SHARE * view.height
    lines, legend = lines_of(context.scene, scale), legend_of(context.scene)
    return Letters(lines, legend, fitting(scale, size_px(lines, legend, scale), room), x, y)


def lines_of(scene: bpy.types.Scene, scale: float) -> list[tuple[int, str]]:
    """Return size and words of each line, from the lowest, which is the largest, up.

    A long name is shortened to the width of that one, or it would make all numbers smaller.
    """
    *others, largest = (f"{label}  {value}" for label, value in headlines(scene))
    blf.size(FONT, LARGEST_PT * scale)
    room_px = blf.dimensions(FONT, largest)[0]
    name = shortened(named(scene), room_px, LETTERS_PT * scale)
    above = [*reversed(others), *filter(None, [name])]
    return [(LARGEST_PT, largest), *((LETTERS_PT, text) for text in above)]


def size_px(
    lines: list[tuple[int, str]], legend: list[tuple[str, Color]], scale: float
) -> tuple[float, float]:
    """Return width and height of the lines and the legend over them."""
    widest = legend_px(legend, scale)
    for size_pt, text in lines:
        blf.size(FONT, size_pt * scale)
        widest = max(widest, blf.dimensions(FONT, text)[0])
    return widest, LINE * scale * (sum(size_pt for size_pt, _ in lines) + LEGEND_PT)
