"""The curve of the fill in the 3D view: what is still to fill, by how far it stands short."""

from __future__ import annotations

from typing import TYPE_CHECKING

import blf
import gpu
import numpy as np
from gpu_extras.batch import batch_for_shader

from ..bridge.lengths import shown_length
from ..bridge.reading import BARE, INSIDE, table_of
from ..core.units import volume_text

if TYPE_CHECKING:
    import bpy

    from ..core.arrays import Floats

WIDE_PX, HIGH_PX, MARGIN_PX, EDGE_PX = 300.0, 180.0, 30.0, 14.0
LETTERS_PT = 13
FONT = 0
GROUND = (0.08, 0.08, 0.08, 0.8)
AXIS = (0.75, 0.75, 0.75, 1.0)
COLORS = {INSIDE: (1.0, 0.62, 0.1, 1.0), BARE: (0.55, 0.7, 0.95, 1.0)}
LABELS = {INSIDE: "inside the shell", BARE: "bare mold"}
CROSS_PX = 6.0


def curve_px(table: Floats, end: tuple[float, float], scale: float) -> Floats:
    """Return a table (n, 2) as points of the plot, from its lower left corner."""
    size = np.array([WIDE_PX, HIGH_PX]) * scale
    points: Floats = (table / np.array(end) * size).astype(np.float32)
    return points


def draw_fill_curve(context: bpy.types.Context, scale: float) -> None:
    """Draw both curves and the reading at the lower right of the view, if asked for."""
    whole = context.scene.riseline
    tables = {place: table_of(whole, place) for place in (BARE, INSIDE)}
    if not whole.show_fill_curve or any(table is None for table in tables.values()):
        return
    end = tuple(max(float(table[:, k].max()) for table in tables.values()) for k in (0, 1))
    if min(end) <= 0.0:
        return
    right = next((r.width for r in context.area.regions if r.type == "UI"), 0)
    corner = np.array([
        context.region.width - right - (WIDE_PX + MARGIN_PX) * scale, (MARGIN_PX + EDGE_PX) * scale
    ])  # fmt: skip
    gpu.state.blend_set("ALPHA")
    low = corner - MARGIN_PX * scale
    box(low, corner + (np.array([WIDE_PX, HIGH_PX]) + EDGE_PX) * scale, GROUND)
    size = np.array([WIDE_PX, HIGH_PX]) * scale
    axes = np.array([[0.0, size[1]], [0.0, 0.0], [size[0], 0.0]]) + corner
    strip(axes, AXIS)
    for place, table in tables.items():
        strip(curve_px(table, end, scale) + corner, COLORS[place])
    _mark_reading(whole, tables[whole.stands_in], end, corner, scale)
    gpu.state.blend_set("NONE")
    _write(context.scene, end, corner, scale)


def _mark_reading(
    whole: bpy.types.PropertyGroup,
    table: Floats,
    end: tuple[float, float],
    corner: Floats,
    scale: float,
) -> None:
    """Cross the curve where the reading is."""
    short_mm = min(whole.stands_short_mm, float(table[-1, 0]))
    spot = np.array([[short_mm, np.interp(short_mm, *table.T)]])
    at = curve_px(spot, end, scale)[0] + corner
    arm = CROSS_PX * scale
    strip(np.array([at - [arm, 0.0], at + [arm, 0.0]]), AXIS)
    strip(np.array([at - [0.0, arm], at + [0.0, arm]]), AXIS)


def strip(points: Floats, color: tuple[float, float, float, float]) -> None:
    """Draw a line through points (n, 2)."""
    shader = gpu.shader.from_builtin("POLYLINE_UNIFORM_COLOR")
    shader.uniform_float("viewportSize", gpu.state.viewport_get()[2:])
    shader.uniform_float("lineWidth", 2.0)
    shader.uniform_float("color", color)
    flat = np.column_stack([points, np.zeros(len(points))]).astype(np.float32)
    batch_for_shader(shader, "LINE_STRIP", {"pos": flat}).draw(shader)


def box(low: Floats, high: Floats, color: tuple[float, float, float, float]) -> None:
    """Fill the box between two corners."""
    corners = np.array([low, [high[0], low[1]], high, [low[0], high[1]]], dtype=np.float32)
    shader = gpu.shader.from_builtin("UNIFORM_COLOR")
    shader.uniform_float("color", color)
    indices = [(0, 1, 2), (0, 2, 3)]
    batch_for_shader(shader, "TRIS", {"pos": corners}, indices=indices).draw(shader)


def _write(scene: bpy.types.Scene, end: tuple[float, float], corner: Floats, scale: float) -> None:
    x, y = corner
    line = LETTERS_PT * 1.4 * scale
    blf.size(FONT, LETTERS_PT * scale)
    deepest = shown_length(scene, end[0])
    top = y + HIGH_PX * scale - line * 0.4
    texts = [
        (x, y - line, "below the rim", AXIS),
        (x + (WIDE_PX - 70.0) * scale, y - line, deepest, AXIS),
        (x + 6.0 * scale, top, f"{volume_text(end[1])} still to fill", AXIS),
        (x + 6.0 * scale, top - line, LABELS[BARE], COLORS[BARE]),
        (x + 6.0 * scale, top - 2.0 * line, LABELS[INSIDE], COLORS[INSIDE]),
    ]
    for left, low, text, color in texts:
        blf.color(FONT, *color)
        blf.position(FONT, left, low, 0)
        blf.draw(FONT, text)
