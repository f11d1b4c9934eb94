"""Cuts of a mesh with upright planes, one a row of a grid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .plane_cuts import plane_cuts

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


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
    rows_mm = grid.y_mm + grid.pitch_mm * np.arange(grid.ny, dtype=np.float64)
    lines = plane_cuts(vertices[:, [0, 2, 1]], faces, rows_mm)
    at = np.ceil((lines.ends_mm[:, :, 0] - grid.x_mm) / grid.pitch_mm).astype(np.int64)
    return Cuts(lines.plane, lines.face, lines.ends_mm, at, lines.edges)
