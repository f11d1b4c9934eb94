"""The map of leans in pixels, and its colours: one hue, the darker the more air stays."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .raster import srgb_bytes

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..bubbles.lean_grid import LeanGrid

LIGHT, DARK = np.array([0.93, 0.92, 0.86]), np.array([0.015, 0.035, 0.16])
"""Linear colours of no air and of the most; between them only the lightness tells, to every eye."""

EVEN = 2.4
"""Steps of light to this power look alike, as in sRGB (IEC 61966-2-1)."""

OUTER, MIDDLE = 200.0, 44.0
"""Radii of the clock and of its middle, in pixels of the picture."""


def lean_pixels(grid: LeanGrid, upright_ml: float, size: int) -> Floats:
    """Return the map as pixels (size, size, 4), sRGB and alpha from 0 to 1, rows from below.

    Parameters
    ----------
    grid : LeanGrid
        At least one lean.
    upright_ml : float
        What is trapped without a lean.
    size : int
    """
    axis = (np.arange(size) + 0.5) / size * 2.0 - 1.0
    x, y = np.meshgrid(axis, axis)
    radius, columns = np.hypot(x, y) * OUTER, len(grid.towards_deg)
    row = np.searchsorted(radii_of(len(grid.degrees)), radius, side="right") - 1
    towards = np.degrees(np.arctan2(y, x)) - grid.towards_deg[0]
    column = np.floor(towards / 360.0 * columns + 0.5).astype(np.int64) % columns
    share = shares_of(grid, upright_ml)[np.clip(row, 0, len(grid.degrees) - 1), column]
    share = np.where(row < 0, share_of(upright_ml, grid, upright_ml), share)
    pixels = np.ones((size, size, 4))
    pixels[:, :, :3] = srgb_bytes(linear(share)) / 255.0
    pixels[radius > OUTER] = 0.0
    return pixels


def shares_of(grid: LeanGrid, upright_ml: float) -> Floats:
    """Return what each lean traps as a share of the most, that of standing upright included."""
    shares: Floats = grid.trapped_ml / _most_ml(grid, upright_ml)
    return shares


def _most_ml(grid: LeanGrid, upright_ml: float) -> float:
    return max(float(grid.trapped_ml.max()), upright_ml, 1e-9)


def share_of(trapped_ml: float, grid: LeanGrid, upright_ml: float) -> float:
    """Return one volume as such a share."""
    return trapped_ml / _most_ml(grid, upright_ml)


def radii_of(rings: int) -> Floats:
    """Return the radii (rings + 1,) between the rings, from the middle outward."""
    return np.linspace(MIDDLE, OUTER, rings + 1)


def linear(share: Floats) -> Floats:
    """Return colours (..., 3) whose lightness falls evenly with the share."""
    part = np.asarray(share)[..., None]
    light, dark = LIGHT ** (1.0 / EVEN), DARK ** (1.0 / EVEN)
    colors: Floats = (light + (dark - light) * part) ** EVEN
    return colors
