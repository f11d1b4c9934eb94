"""Cuts of a mesh with upright planes, y = constant, one a row: exact lines, joined at their ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


@dataclass(frozen=True)
class Grid:
    """Square cells in plan; ``x_mm``, ``y_mm`` is the middle of cell 0, 0. A cell's number is i * ny + j."""

    x_mm: float
    y_mm: float
    pitch_mm: float
    nx: int
    ny: int

    @property
    def turned_over(self) -> Grid:
        """The grid with x and y exchanged."""
        return Grid(self.y_mm, self.x_mm, self.pitch_mm, self.ny, self.nx)


@dataclass(frozen=True, eq=False)
class Cuts:
    """One line a triangle and row it meets, walked so that the solid lies on its right (x right, z up).

    ``xz`` (n, 2, 2) holds start and end in mm; ``at`` (n, 2) the number of the first cell middle that
    is not left of them; ``ends`` (n, 2) names the mesh edge that start and end lie on, in this row.
    """

    row: Ints
    face: Ints
    xz: Floats
    at: Ints
    ends: Ints


def grid_over(vertices: Floats, pitch_mm: float, margin: int = 2) -> Grid:
    """Return the grid over the plan of some vertices (n, 3), with empty cells all round."""
    low, high = vertices[:, :2].min(axis=0), vertices[:, :2].max(axis=0)
    cells = np.maximum(np.ceil((high - low) / pitch_mm).astype(int), 1)
    first = (low + high) / 2.0 - (cells - 1) / 2.0 * pitch_mm - margin * pitch_mm
    nx, ny = (int(count) + 2 * margin for count in cells)
    return Grid(float(first[0]), float(first[1]), pitch_mm, nx, ny)


def row_cuts(vertices: Floats, faces: Ints, grid: Grid) -> Cuts:
    """Return the lines that the rows of a grid cut out of the triangles.

    Whether a vertex lies above a row is decided once for the vertex, and where an edge meets a row
    from its own two ends alone: neighbours agree to the last bit, so a closed mesh has no leak.

    Parameters
    ----------
    vertices : ndarray, shape (n, 3)
        In mm.
    faces : ndarray, shape (m, 3)
        Counter-clockwise from outside.
    grid : Grid
        Its rows must span the mesh.

    Returns
    -------
    Cuts
    """
    above = np.ceil((vertices[:, 1] - grid.y_mm) / grid.pitch_mm).astype(np.int64)
    corner = above[faces]
    low = corner.min(axis=1)
    face, rank = spread(corner.max(axis=1) - low)
    row = low[face] + rank
    over = corner[face] > row[:, None]
    start, end = (_edge_points(vertices, faces[face], over, row, grid, up) for up in (False, True))
    xz = np.stack([start[0], end[0]], axis=1)
    at = np.ceil((xz[:, :, 0] - grid.x_mm) / grid.pitch_mm).astype(np.int64)
    return Cuts(row, face, xz, at, np.stack([start[1], end[1]], axis=1))


def _edge_points(
    vertices: Floats, corners: Ints, over: Ints, row: Ints, grid: Grid, up: bool
) -> tuple[Floats, Ints]:
    """Return where the triangle's edge that crosses the row upward (or downward) meets it."""
    ahead = over[:, [1, 2, 0]]
    edge = np.argmax((~over & ahead) if up else (over & ~ahead), axis=1)
    index = np.arange(len(row))
    tail, head = corners[index, edge], corners[index, (edge + 1) % 3]
    low, high = (tail, head) if up else (head, tail)
    y_low, y_high = vertices[low, 1], vertices[high, 1]
    y = grid.y_mm + row * grid.pitch_mm
    share = np.clip((y - y_low) / np.maximum(y_high - y_low, 1e-300), 0.0, 1.0)[:, None]
    xz = vertices[:, [0, 2]]
    points = xz[low] + share * (xz[high] - xz[low])
    return points, (low * len(vertices) + high) * max(grid.ny, 1) + row
