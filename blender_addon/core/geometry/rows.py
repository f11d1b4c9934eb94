"""Cuts of a mesh with upright planes, one a row: exact lines, joined at their ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints


@dataclass(frozen=True)
class Grid:
    """Square cells in plan, from ``x_mm``, ``y_mm``, the middle of cell 0, 0; a row is one y.

    Cell i, j has the number i * ny + j.
    """

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
    """A line for each triangle and row it meets; the solid lies on its right (x right, z up).

    ``xz`` (n, 2, 2) holds start and end in mm; ``at`` (n, 2) the number of the first cell middle
    that is not left of them; ``ends`` (n, 2) names the mesh edge they lie on, in this row.
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
    a, b, c = (above[faces[:, k]] for k in range(3))  # by columns: short rows are slow to reduce
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    met = np.flatnonzero(high > low)
    hit, rank = spread(high[met] - low[met])
    face = met[hit]
    row = low[face] + rank
    over = np.column_stack([a[face] > row, b[face] > row, c[face] > row])
    start, end = (
        _edge_points(vertices, faces[face], over, row, grid, up=up) for up in (False, True)
    )
    xz = np.stack([start[0], end[0]], axis=1)
    at = np.ceil((xz[:, :, 0] - grid.x_mm) / grid.pitch_mm).astype(np.int64)
    return Cuts(row, face, xz, at, np.stack([start[1], end[1]], axis=1))


def _edge_points(
    vertices: Floats, corners: Ints, over: Bools, row: Ints, grid: Grid, *, up: bool
) -> tuple[Floats, Ints]:
    """Return where the triangle's edge that crosses the row upward (or downward) meets it."""
    first, second, third = over.T
    if up:
        edge = np.where(~first & second, 0, np.where(~second & third, 1, 2))
    else:
        edge = np.where(first & ~second, 0, np.where(second & ~third, 1, 2))
    index = np.arange(len(row))
    tail, head = corners[index, edge], corners[index, (edge + 1) % 3]
    low, high = (tail, head) if up else (head, tail)
    y_low, y_high = vertices[low, 1], vertices[high, 1]
    y = grid.y_mm + row * grid.pitch_mm
    share = np.clip((y - y_low) / np.maximum(y_high - y_low, 1e-300), 0.0, 1.0)[:, None]
    xz = vertices[:, [0, 2]]
    points = xz[low] + share * (xz[high] - xz[low])
    return points, (low * len(vertices) + high) * max(grid.ny, 1) + row
