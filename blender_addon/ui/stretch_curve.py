"""How far the rubber must stretch at each height, drawn into the 3D view beside the piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

import blf
import gpu
import numpy as np

from ..bridge.lengths import shown_length
from ..bridge.stretching import curve_of
from .fill_curve import AXIS, FONT, GROUND, LETTERS_PT, box, strip

if TYPE_CHECKING:
    import bpy

    from ..core.arrays import Floats

WIDE_PX, HIGH_PX, MARGIN_PX, EDGE_PX = 200.0, 260.0, 30.0, 14.0
OVER_FILL_PX = 250.0
"""Room below for the curve of the fill, when that is drawn as well."""

NEEDED = (0.98, 0.62, 0.1, 1.0)
SAFE = (0.35, 0.8, 0.45, 1.0)
SLIT = (0.55, 0.7, 0.95, 1.0)
HEADROOM = 1.15


def draw_stretch_curve(context: bpy.types.Context, scale: float) -> None:
    """Draw the curve, what is safe, and how high the slit goes, at the right of the view."""
    whole = context.scene.riseline
    stored = curve_of(whole) if whole.show_stretch_curve else None
    if stored is None:
        return
    rows, end_mm = stored
    allowed = whole.results.cut_allowed_stretch
    most = np.array(
        [HEADROOM * max(float(rows[:, 0].max()), allowed, 0.1), float(rows[:, 1].max())]
    )
    right = next((r.width for r in context.area.regions if r.type == "UI"), 0)
    lift = OVER_FILL_PX if whole.show_fill_curve else 0.0
    corner = np.array([
        context.region.width - right - (WIDE_PX + MARGIN_PX) * scale,
        (MARGIN_PX + EDGE_PX + lift) * scale,
    ])  # fmt: skip
    size = np.array([WIDE_PX, HIGH_PX]) * scale
    low, high = corner - MARGIN_PX * scale, corner + size + 2.0 * EDGE_PX * scale
    gpu.state.blend_set("ALPHA")
    box(low, high, GROUND)
    strip(np.array([[0.0, size[1]], [0.0, 0.0], [size[0], 0.0]]) + corner, AXIS)
    safe = np.array([[allowed, 0.0], [allowed, most[1]]])
    slit = np.array([[0.0, end_mm], [most[0], end_mm]])
    for line, color in ((safe, SAFE), (slit, SLIT), (rows, NEEDED)):
        strip(points_px(line, most, size) + corner, color)
    gpu.state.blend_set("NONE")
    _write(context.scene, (allowed, end_mm, most), corner, size)


def points_px(line: Floats, most: Floats, size: Floats) -> Floats:
    """Return stretch and height (n, 2) as points of the plot, from its lower left corner."""
    points: Floats = line / most * size
    return points


def _write(
    scene: bpy.types.Scene, told: tuple[float, float, Floats], corner: Floats, size: Floats
) -> None:
    allowed, end_mm, most = told
    scale = size[0] / WIDE_PX
    x, y = corner
    safe_x, end_y = points_px(np.array([allowed, end_mm]), most, size) + corner
    line = LETTERS_PT * 1.3 * scale
    lift = -line if end_y > y + size[1] - 2.0 * line else 4.0 * scale  # clear of what is safe
    texts = [
        (x, y - line, "stretch needed", NEEDED),
        (safe_x - 60.0 * scale, y + size[1] + 0.5 * line, f"safe {allowed:.0%}", SAFE),
        (x + size[0] - 100.0 * scale, end_y + lift, f"cut to {shown_length(scene, end_mm)}",
         SLIT),
    ]  # fmt: skip
    blf.size(FONT, LETTERS_PT * scale)
    for left, low, text, color in texts:
        blf.color(FONT, *color)
        blf.position(FONT, left, low, 0)
        blf.draw(FONT, text)
