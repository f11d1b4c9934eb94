"""What the colours of the piece mean, written in the 3D view."""

from __future__ import annotations

from typing import TYPE_CHECKING

import blf
import numpy as np
from mathutils import Color

from ..bridge import materials, names
from ..bridge.lengths import shown_length
from ..bridge.views import BAND_LIMITS, mode_of
from .fill_curve import box

if TYPE_CHECKING:
    import bpy

LEGEND_PT = 15
COLOR = (0.95, 0.95, 0.95, 1.0)
FONT = 0  # Blender's own

PATCH, TEXT_AT, EDGE_PX = 0.8, 1.15, 1.0
"""Of a colour: its patch, and where its words begin, in heights of the letters; and a rim of pixels
that tells the patch from any ground."""

GAP = "xx"
"""As wide as this is the room between two colours."""


def legend_of(scene: bpy.types.Scene) -> list[tuple[str, Color]]:
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


def draw_legend(legend: list[tuple[str, Color]], x: float, y: float, scale: float) -> None:
    """Draw a patch of each colour, and beside it what it means: a dark one is hard to read."""
    blf.size(FONT, LEGEND_PT * scale)
    blf.color(FONT, *COLOR)
    patch, text_at = PATCH * LEGEND_PT * scale, TEXT_AT * LEGEND_PT * scale
    for text, color in legend:
        low = np.array([x, y])
        box(low - EDGE_PX * scale, low + patch + EDGE_PX * scale, COLOR)
        box(low, low + patch, (*color, 1.0))
        blf.position(FONT, x + text_at, y, 0)
        blf.draw(FONT, text)
        x += _entry_px(text, scale)


def legend_px(legend: list[tuple[str, Color]], scale: float) -> float:
    """Return how wide a legend is."""
    blf.size(FONT, LEGEND_PT * scale)
    return sum(_entry_px(text, scale) for text, _ in legend)


def _entry_px(text: str, scale: float) -> float:
    """Return how wide one colour of the legend is with its words and the room after them."""
    return TEXT_AT * LEGEND_PT * scale + float(blf.dimensions(FONT, f"{text}{GAP}")[0])


def band_text(scene: bpy.types.Scene, kind: str) -> str:
    """Return a band of the rubber's thickness in words and numbers."""
    least_mm = scene.riseline.case.least_rubber_mm
    number = names.BANDS.index(kind)
    if number < len(BAND_LIMITS):
        return f"Under {shown_length(scene, BAND_LIMITS[number] * least_mm)}"
    return f"Over {shown_length(scene, BAND_LIMITS[-1] * least_mm)}"
