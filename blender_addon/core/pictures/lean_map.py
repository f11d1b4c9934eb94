"""The map of trapped air by lean: a clock seen from above, the channel at 12, upright inside.

The darker a field, the more air stays.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..bubbles.lean_grid import hour_of, lean_grid, turned_deg
from ..units import volume_text
from .lean_colors import MIDDLE, OUTER, linear, radii_of, share_of, shares_of
from .raster import srgb_bytes

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..bubbles.lean_grid import LeanGrid
    from ..bubbles.result import BubblesResult

SIZE = 520.0
"""Width of the picture in pixels."""

TOP = 60.0
FIELD_TEXT_SHARE = 0.45
"""Fields darker than this share bear white figures."""


def lean_picture(bubbles: BubblesResult, placement: Floats) -> str:
    """Return the map as the text of an SVG file.

    Parameters
    ----------
    bubbles : BubblesResult
        Its leans.
    placement : ndarray, shape (4, 4)
        Brings the scan frame into the job frame.
    """
    grid = lean_grid(bubbles.leans, placement)
    upright_ml, x, y = bubbles.trapped_ml, SIZE / 2.0, TOP + OUTER + 24.0
    shares = shares_of(grid, upright_ml)
    radii = radii_of(len(grid.degrees))
    half_deg = 180.0 / len(grid.towards_deg)
    fields = [
        _field((x, y), (radii[row], radii[row + 1]), (towards - half_deg, towards + half_deg),
               grid.trapped_ml[row, column], shares[row, column])
        for row in range(len(grid.degrees))
        for column, towards in enumerate(grid.towards_deg.tolist())
    ]  # fmt: skip
    share = share_of(upright_ml, grid, upright_ml)
    fields.append(
        f'<circle cx="{x:g}" cy="{y:g}" r="{MIDDLE:g}" fill="{_color(share)}" stroke="#ffffff"/>'
    )
    fields.append(_figure((x, y), upright_ml, share))
    return "\n".join([
        *_head(), *fields, *_best(bubbles, grid, placement, (x, y), radii),
        *_hours((x, y)), *_legend(bubbles, grid, placement), "</svg>\n",
    ])  # fmt: skip


def _color(share: float) -> str:
    return "#" + "".join(f"{one:02x}" for one in srgb_bytes(linear(np.array(share))).tolist())


def _spot(middle: tuple[float, float], radius: float, towards_deg: float) -> tuple[float, float]:
    turn = np.radians(towards_deg)
    return middle[0] + radius * float(np.cos(turn)), middle[1] - radius * float(np.sin(turn))


def _field(
    middle: tuple[float, float],
    radii: tuple[float, float],
    edges_deg: tuple[float, float],
    trapped_ml: float,
    share: float,
) -> str:
    at = _spot(middle, sum(radii) / 2.0, sum(edges_deg) / 2.0)
    path = f'<path d="{_outline(middle, radii, edges_deg)}" fill="{_color(share)}"'
    return f'{path} stroke="#ffffff"/>\n{_figure(at, trapped_ml, share)}'


def _outline(
    middle: tuple[float, float], radii: tuple[float, float], edges_deg: tuple[float, float]
) -> str:
    (ax, ay), (bx, by) = (_spot(middle, radii[1], edge) for edge in edges_deg)
    (cx, cy), (dx, dy) = (_spot(middle, radii[0], edge) for edge in edges_deg[::-1])
    return (
        f"M{ax:.1f} {ay:.1f}A{radii[1]:.1f} {radii[1]:.1f} 0 0 0 {bx:.1f} {by:.1f}"
        f"L{cx:.1f} {cy:.1f}A{radii[0]:.1f} {radii[0]:.1f} 0 0 1 {dx:.1f} {dy:.1f}Z"
    )


def _figure(at: tuple[float, float], trapped_ml: float, share: float) -> str:
    ink = "#ffffff" if share > FIELD_TEXT_SHARE else "#111111"
    figure = volume_text(trapped_ml).removesuffix(" ml")
    return (
        f'<text x="{at[0]:.1f}" y="{at[1] + 4.5:.1f}" font-size="13px" fill="{ink}" '
        f'text-anchor="middle">{figure}</text>'
    )


def _best(
    bubbles: BubblesResult,
    grid: LeanGrid,
    placement: Floats,
    middle: tuple[float, float],
    radii: Floats,
) -> list[str]:
    """Return a thick line round the best field."""
    pen = 'class="best" fill="none" stroke="#c8102e" stroke-width="3.5"'
    if bubbles.lean.degrees <= 0.0:
        return [f'<circle {pen} cx="{middle[0]:g}" cy="{middle[1]:g}" r="{MIDDLE:g}"/>']
    row = int(np.argmin(np.abs(grid.degrees - bubbles.lean.degrees)))
    towards, half = turned_deg(bubbles.lean.towards_deg, placement), 180.0 / len(grid.towards_deg)
    ring = (float(radii[row]), float(radii[row + 1]))
    return [f'<path {pen} d="{_outline(middle, ring, (towards - half, towards + half))}"/>']


def _head() -> list[str]:
    tall = TOP + 2.0 * OUTER + 168.0
    size = f'width="{SIZE:g}" height="{tall:g}" viewBox="0 0 {SIZE:g} {tall:g}"'
    font = 'font-family="DejaVu Sans, Verdana, Arial, sans-serif"'
    title = "Trapped air by lean of the case, in ml"
    return [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" {size} {font}>',
        '<rect width="100%" height="100%" fill="#ffffff"/>',
        f'<text x="16.0" y="28.0" font-size="17px" font-weight="bold">{title}</text>',
    ]


def _hours(middle: tuple[float, float]) -> list[str]:
    found = []
    for hour, towards_deg in ((12, 90.0), (3, 0.0), (6, 270.0), (9, 180.0)):
        x, y = _spot(middle, OUTER + 16.0, towards_deg)
        words = "12, the channel" if hour == 12 else str(hour)
        found.append(
            f'<text x="{x:.1f}" y="{y + 4.5:.1f}" font-size="13px" text-anchor="middle">'
            f"{words}</text>"
        )
    return found


def _legend(bubbles: BubblesResult, grid: LeanGrid, placement: Floats) -> list[str]:
    rings = ", ".join(f"{one:g}°" for one in grid.degrees.tolist())
    best = bubbles.lean
    where = f"{best.degrees:g}° to {hour_of(turned_deg(best.towards_deg, placement))} o'clock"
    where = where if best.degrees > 0.0 else "upright"
    lines = (
        "Seen from above; the darker, the more air stays.",
        f"From the middle: upright, then leaned by {rings}.",
        f"Best: {where}, {volume_text(best.trapped_ml)}.",
        "A first look on a coarser surface; only the best was computed finely.",
    )
    top = TOP + 2.0 * OUTER + 80.0
    return [
        f'<text x="16.0" y="{top + 18.0 * k:.1f}" font-size="13px">{line}</text>'
        for k, line in enumerate(lines)
    ]
