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
from .stretch_curve import draw_stretch_curve

LARGEST_PT, LETTERS_PT = 38, 20
"""Of the number that costs most when it is wrong, the rubber to weigh, and of the others."""

LEGEND_PT = 15
LINE = 1.45
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
    left = next((r.width for r in context.area.regions if r.type == "TOOLS"), 0)
    x, y = left + 20 * scale, OVER_EDGE * scale
    blf.enable(FONT, blf.SHADOW)
    blf.shadow(FONT, 3, *SHADOW)
    blf.color(FONT, *COLOR)
    *others, largest = headlines(context.scene)
    sizes_pt = [LARGEST_PT, *[LETTERS_PT] * len(others)]
    for size_pt, (label, value) in zip(sizes_pt, (largest, *reversed(others)), strict=True):
        blf.size(FONT, size_pt * scale)
        blf.position(FONT, x, y, 0)
        blf.draw(FONT, f"{label}  {value}")
        y += LINE * size_pt * scale
    if name := named(context.scene):
        blf.position(FONT, x, y, 0)
        blf.draw(FONT, name)
        y += LINE * LETTERS_PT * scale
    _draw_legend(x, y, scale)
    blf.disable(FONT, blf.SHADOW)


def _draw_legend(x: float, y: float, scale: float) -> None:
    """Write what each colour of the piece means, in that colour."""
    scene = bpy.context.scene
    mode = mode_of(scene.riseline)
    if not mode:
        return
    blf.size(FONT, LEGEND_PT * scale)
    kinds = names.BANDS if mode == "thickness" else names.CLASSES[:0:-1]
    for kind in kinds:
        material = materials.find(kind)
        if material is not None:
            color = Color(material.diffuse_color[:3]).from_scene_linear_to_srgb()
            blf.color(FONT, *color, 1.0)
            blf.position(FONT, x, y, 0)
            text = band_text(scene, kind) if mode == "thickness" else kind
            blf.draw(FONT, text)
            x += blf.dimensions(FONT, f"{text}xx")[0]


def band_text(scene: bpy.types.Scene, kind: str) -> str:
    """Return a band of the rubber's thickness in words and numbers."""
    least_mm = scene.riseline.case.least_rubber_mm
    number = names.BANDS.index(kind)
    if number < len(BAND_LIMITS):
        return f"Under {shown_length(scene, BAND_LIMITS[number] * least_mm)}"
    return f"Over {shown_length(scene, BAND_LIMITS[-1] * least_mm)}"
