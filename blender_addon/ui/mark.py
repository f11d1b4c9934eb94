"""A ring in the 3D view round the place that a warning speaks of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import gpu
import numpy as np
from bpy_extras.view3d_utils import location_3d_to_region_2d
from gpu_extras.batch import batch_for_shader

from ..bridge.kept import kept

if TYPE_CHECKING:
    import bpy

RADIUS_PX = 26.0
CORNERS = 48
RINGS = ((5.0, (0.0, 0.0, 0.0, 0.9)), (2.5, (1.0, 1.0, 1.0, 1.0)))
"""Width in pixels and colour: white on black is seen on every ground."""


def draw_mark(context: bpy.types.Context, scale: float) -> None:
    """Draw the ring, if a place of this layout was asked for."""
    if kept.mark is None or kept.mark[0] != context.scene.riseline.results.token:
        return
    middle = location_3d_to_region_2d(context.region, context.region_data, kept.mark[1])
    if middle is None:
        return
    turn = np.linspace(0.0, 2.0 * np.pi, CORNERS + 1)
    ring = np.column_stack([np.cos(turn), np.sin(turn)]) * RADIUS_PX * scale + np.array(middle)
    shader = gpu.shader.from_builtin("POLYLINE_UNIFORM_COLOR")
    points = np.column_stack([ring, np.zeros(len(ring))]).astype(np.float32)
    batch = batch_for_shader(shader, "LINE_STRIP", {"pos": points})
    gpu.state.blend_set("ALPHA")
    shader.uniform_float("viewportSize", gpu.state.viewport_get()[2:])
    for width, color in RINGS:
        shader.uniform_float("lineWidth", width * scale)
        shader.uniform_float("color", color)
        batch.draw(shader)
    gpu.state.blend_set("NONE")
