"""What an eye far away sees of a mesh: the first surface along each line of sight, shaded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.pictures import (
    DARKEST_SHARE,
    LINE_SHARE,
    LINES_IN_PIXEL,
    PICTURE_PIXELS,
    STEP_PIXELS,
)
from ..geometry.columns import crossings_of
from ..geometry.rows import Grid, row_cuts

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh
    from .views import View

LIGHT = np.array([-0.41, 0.53, 0.74])
"""Direction of the lamp seen from the piece: over the left shoulder of who looks."""


@dataclass(frozen=True, eq=False)
class Raster:
    """A picture: ``pixels`` (h, w, 3), rows from the top; ``depth_mm`` (h, w) is towards the eye.

    ``left_mm`` and ``top_mm`` are where its corner lies in the view; no surface is -inf deep.
    """

    pixels: npt.NDArray[np.uint8]
    depth_mm: Floats
    left_mm: float
    top_mm: float
    pixel_mm: float

    def at(self, place_mm: Floats) -> tuple[float, float]:
        """Return how many pixels from left and top a place (3,) of the view lies."""
        return (
            float(place_mm[0] - self.left_mm) / self.pixel_mm,
            float(self.top_mm - place_mm[1]) / self.pixel_mm,
        )

    def is_hidden(self, place_mm: Floats) -> bool:
        """Tell whether the surface lies before a place (3,) of the view."""
        x, y = (int(one) for one in self.at(place_mm))
        height, width = self.depth_mm.shape
        inside = 0 <= x < width and 0 <= y < height
        return inside and bool(self.depth_mm[y, x] > place_mm[2] + 2.0 * self.pixel_mm)


def rendered(
    mesh: Mesh, normals: Floats, colors: Floats, view: View, pixels: int = PICTURE_PIXELS
) -> Raster:
    """Return a mesh as the eye of a view sees it.

    Parameters
    ----------
    mesh : Mesh
        Closed, in the job frame.
    normals : ndarray, shape (m, 3)
        Unit normals of the faces, to shade by.
    colors : ndarray, shape (m, 3)
        Linear red, green and blue of the faces.
    view : View
    pixels : int
        Along the longer side of the piece.
    """
    axes = view.axes
    turned = mesh.vertices @ axes.T
    facing = np.flatnonzero(mesh.vectors_mm2 @ axes[2] > 0.0)
    grid = _grid(turned, pixels)
    met = crossings_of(row_cuts(turned, mesh.faces[facing], grid), grid)
    nearest = np.flatnonzero(np.append(met.cell[1:] != met.cell[:-1], len(met.cell) > 0))
    cell, face = met.cell[nearest], facing[met.face[nearest]]
    depth_mm = np.full(grid.nx * grid.ny, -np.inf)
    depth_mm[cell] = met.z_mm[nearest]
    bright = np.clip(normals @ (axes.T @ LIGHT), 0.0, 1.0)
    lit = DARKEST_SHARE + (1.0 - DARKEST_SHARE) * bright[face]
    lines = _steps(depth_mm.reshape(grid.nx, grid.ny), STEP_PIXELS * LINES_IN_PIXEL * grid.pitch_mm)
    lit *= np.where(lines.ravel()[cell], LINE_SHARE, 1.0)
    light = np.ones((grid.nx * grid.ny, 3))
    light[cell] = colors[face] * lit[:, None]
    coarse = _shrunk(light.reshape(grid.nx, grid.ny, 3)).mean(axis=(1, 3))
    deep = _shrunk(depth_mm.reshape(grid.nx, grid.ny, 1)).max(axis=(1, 3))[:, :, 0]
    half = grid.pitch_mm / 2.0
    return Raster(
        srgb_bytes(coarse.transpose(1, 0, 2)[::-1]),
        deep.T[::-1],
        grid.x_mm - half,
        grid.y_mm + (grid.ny - 0.5) * grid.pitch_mm,
        LINES_IN_PIXEL * grid.pitch_mm,
    )


def smooth_normals(mesh: Mesh) -> Floats:
    """Return unit normals of the faces (m, 3), smoothed over their neighbours."""
    corners, count = mesh.faces.ravel(), len(mesh.vertices)
    of_corners = np.repeat(mesh.vectors_mm2, 3, axis=0)
    at_vertices = np.column_stack([np.bincount(corners, of_corners[:, k], count) for k in range(3)])
    normals = at_vertices[mesh.faces].sum(axis=1)
    smooth: Floats = normals / np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    return smooth


def _grid(turned: Floats, pixels: int) -> Grid:
    """Return lines of sight over the view of some vertices, whole pixels of them, and a margin."""
    low, high = turned[:, :2].min(axis=0), turned[:, :2].max(axis=0)
    pixel_mm = float((high - low).max()) / pixels
    wide, tall = (int(count) + 4 for count in np.ceil((high - low) / pixel_mm))
    pitch_mm = pixel_mm / LINES_IN_PIXEL
    x_mm, y_mm = (low + high) / 2.0 - np.array([wide, tall]) * pixel_mm / 2.0 + pitch_mm / 2.0
    return Grid(float(x_mm), float(y_mm), pitch_mm, wide * LINES_IN_PIXEL, tall * LINES_IN_PIXEL)


def _steps(depth_mm: Floats, least_mm: float) -> Bools:
    """Return where a line of sight ends much farther from the eye than one beside it does."""
    own = np.where(np.isfinite(depth_mm), depth_mm, -1e30)
    round_it = np.pad(own, 1, constant_values=-1e30)
    along_x = np.maximum(round_it[:-2, 1:-1], round_it[2:, 1:-1])
    along_y = np.maximum(round_it[1:-1, :-2], round_it[1:-1, 2:])
    steps: Bools = np.maximum(along_x, along_y) - own > least_mm
    return steps


def _shrunk(fine: Floats) -> Floats:
    """Return an array (w, h, k) of lines of sight by pixel: (w / n, n, h / n, n, k)."""
    wide, tall, kinds = fine.shape
    return fine.reshape(
        wide // LINES_IN_PIXEL, LINES_IN_PIXEL, tall // LINES_IN_PIXEL, LINES_IN_PIXEL, kinds
    )


def srgb(linear: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return a linear colour as sRGB, 0 to 1."""
    red, green, blue = (srgb_bytes(np.array(linear)) / 255.0).tolist()
    return red, green, blue


def srgb_bytes(linear: Floats) -> npt.NDArray[np.uint8]:
    """Return linear light as bytes of sRGB (IEC 61966-2-1)."""
    curved = 1.055 * np.maximum(linear, 0.0031308) ** (1.0 / 2.4) - 0.055
    srgb = np.where(linear <= 0.0031308, 12.92 * linear, curved)
    return np.rint(255.0 * np.clip(srgb, 0.0, 1.0)).astype(np.uint8)
