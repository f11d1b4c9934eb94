"""The headlines in large letters in the 3D view, to be read from the bench."""

from __future__ import annotations

import blf
import bpy
from mathutils import Color

from ..bridge import materials, names
from ..bridge.lengths import shown_length
from ..bridge.views import BAND_LIMITS, mode_of
from .fill_curve import draw_fill_curve
from .headlines import headlines, named
from .mark import draw_mark
from .room import clear_px, fitting
from .shortened import shortened
from .stretch_curve import draw_stretch_curve

LARGEST_PT, LETTERS_PT = 38, 20
"""Of the number that costs most when it is wrong, the rubber to weigh, and of the others."""

LEGEND_PT = 15
LINE = 1.45
GAP = "xx"
"""As wide as this is the room between two words of the legend."""

MARGIN = 20
"""Pixels beside the letters."""

HIGHEST_SHARE = 0.4
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
    stored = context.scene.riseline
    scale = context.preferences.system.ui_scale
    if not (context.space_data.overlay.show_overlays and stored.results.token):
        return
    draw_fill_curve(context, scale)
    draw_stretch_curve(context, scale)
    if not stored.shows_numbers:
        return
    draw_mark(context, scale)
    lines = lines_of(context.scene, scale)
    left, right = clear_px(context.area.regions)
    x, y = left + MARGIN * scale, OVER_EDGE * scale
    room = right - x - MARGIN * scale, HIGHEST_SHARE * context.region.height
    legend = _legend(context.scene)
    scale = fitting(scale, size_px(lines, legend, scale), room)
    blf.enable(FONT, blf.SHADOW)
    blf.shadow(FONT, 3, *SHADOW)
    blf.color(FONT, *COLOR)
    for size_pt, text in lines:
        blf.size(FONT, size_pt * scale)
        blf.position(FONT, x, y, 0)
        blf.draw(FONT, text)
        y += LINE * size_pt * scale
    _draw_legend(legend, x, y, scale)
    blf.disable(FONT, blf.SHADOW)


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
    widest, words = 0.0, GAP.join(text for text, _ in legend)
    for size_pt, text in (*lines, (LEGEND_PT, words)):
        blf.size(FONT, size_pt * scale)
        widest = max(widest, blf.dimensions(FONT, text)[0])
    return widest, LINE * scale * (sum(size_pt for size_pt, _ in lines) + LEGEND_PT)


def _legend(scene: bpy.types.Scene) -> list[tuple[str, Color]]:
    """Return what each colour of the piece means, and the colour as the screen shows it."""
    mode = mode_of(scene.riseline)
    kinds = names.BANDS if mode == "thickness" else names.CLASSES[:0:-1]
    found = [(kind, materials.find(kind)) for kind in kinds if mode]
    return [
        (
            band_text(scene, kind) if mode == "thickness" else kind,
            Color(material.diffuse_color[:3]).from_scene_linear_to_srgb(),
        )
        for kind, material in found
        if material is not None
    ]


def _draw_legend(legend: list[tuple[str, Color]], x: float, y: float, scale: float) -> None:
    """Write what each colour means, in that colour."""
    blf.size(FONT, LEGEND_PT * scale)
    for text, color in legend:
        blf.color(FONT, *color, 1.0)
        blf.position(FONT, x, y, 0)
        blf.draw(FONT, text)
        x += blf.dimensions(FONT, f"{text}{GAP}")[0]


def band_text(scene: bpy.types.Scene, kind: str) -> str:
    """Return a band of the rubber's thickness in words and numbers."""
    least_mm = scene.riseline.case.least_rubber_mm
    number = names.BANDS.index(kind)
    if number < len(BAND_LIMITS):
        return f"Under {shown_length(scene, BAND_LIMITS[number] * least_mm)}"
    return f"Over {shown_length(scene, BAND_LIMITS[-1] * least_mm)}"
