"""The brush map as figures: what is seen from below and from four sides, pockets numbered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.sheet import FIGURE_MM, LEAST_FIGURE_SHARE
from ..pictures.classes import CLASS_COLORS
from ..pictures.raster import srgb
from ..units import area_text
from .blocks import Figure
from .drawing import Circle, Drawing, Picture, Polygon, Text, rectangle

if TYPE_CHECKING:
    from ..pictures.views_of import Seen
    from .drawing import Color, Shape

RING_MM = 2.1
NUMBER_MM = 2.6


def brush_figure(seen: Seen, longest_mm: float = FIGURE_MM) -> Figure:
    """Return what is seen from one side; a dashed ring is hidden by the piece."""
    tall, wide = seen.raster.depth_mm.shape
    scale = longest_mm / max(tall, wide)
    size = wide * scale, tall * scale
    shapes: list[Shape] = [Picture((0.0, 0.0), size, seen.raster.pixels)]
    for mark in reversed(seen.marks):
        at = mark.ceiling[0] * scale, size[1] - mark.ceiling[1] * scale
        kind = "fine dash" if mark.ceiling_hidden else "thin"
        shapes += [
            Circle(at, RING_MM, kind, (1.0, 1.0, 1.0)),
            Text((at[0], at[1] - 0.9), str(mark.number), NUMBER_MM, "middle", bold=True),
        ]
    if seen.question is not None:
        at = seen.question.at[0] * scale, size[1] - seen.question.at[1] * scale
        kind = "fine dash" if seen.question.hidden else "thin"
        shapes += [
            Circle(at, RING_MM, kind, (1.0, 1.0, 1.0)),
            Text((at[0], at[1] - 0.9), "?", NUMBER_MM, "middle", bold=True),
        ]
    drawing = Drawing(f"brush_{seen.view.name}", seen.view.title, tuple(shapes), (0.0, 0.0), size)
    return Figure(drawing, seen.view.title, LEAST_FIGURE_SHARE)


def legend_figure(areas_cm2: dict[str, float], wide_mm: float, *, inches: bool = False) -> Figure:
    """Return the colours of the classes, with their areas."""
    shapes: list[Shape] = []
    step = wide_mm / max(len(areas_cm2), 3)
    for k, (kind, area_cm2) in enumerate(areas_cm2.items()):
        color: Color = srgb(CLASS_COLORS[kind])
        shapes += [
            Polygon((rectangle((k * step, 0.0), (k * step + 5.0, 3.4)),), color),
            Text((k * step + 6.2, 0.5), f"{kind} {area_text(area_cm2, '.0f', inches=inches)}", 2.8),
        ]
    drawing = Drawing("legend", "Colors", tuple(shapes), (0.0, -0.5), (wide_mm, 4.0))
    return Figure(
        drawing, "Ring: where the air of a pocket stands highest; dashed: behind the piece"
    )
