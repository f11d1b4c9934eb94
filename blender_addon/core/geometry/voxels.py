"""Which cells of a regular grid lie inside a solid: by winding number along vertical lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .columns import crossings_of
from .rows import Grid, row_cuts

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh


@dataclass(frozen=True, eq=False)
class Voxels:
    """Cubes of a grid; ``origin_mm`` is the middle of cell 0, 0, 0; ``inside`` is (nx, ny, nz).

    ``miscounted`` is by how many cells a volume by Gauss's theorem is off, whichever way: what
    lies inside once too often, and what the surface goes round the wrong way.
    """

    origin_mm: Floats
    pitch_mm: float
    inside: Bools
    miscounted: int

    def centers_mm(self, cells: Ints) -> Floats:
        """Return the middles (k, 3) of cells given by their numbers (k, 3)."""
        centers: Floats = self.origin_mm + self.pitch_mm * cells
        return centers

    def cells_of(self, points_mm: Floats) -> Ints:
        """Return the numbers (k, 3) of the cells that points (k, 3) lie in, of the grid or not."""
        cells: Ints = np.rint((points_mm - self.origin_mm) / self.pitch_mm).astype(np.int64)
        return cells


def voxels_at(
    mesh: Mesh, origin_mm: Floats, pitch_mm: float, shape: tuple[int, int, int]
) -> Voxels:
    """Return the cells of a grid whose middle lies inside a solid.

    Parameters
    ----------
    mesh : Mesh
        Closed, within the grid. It may cross itself and have several pieces, overlapping or inside
        out: inside is where the winding number is not zero.
    origin_mm : ndarray, shape (3,)
        Middle of cell 0, 0, 0.
    pitch_mm : float
        Side of a cell.
    shape : tuple of int
        Cells along x, y and z.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [9, 0, 0], [0, 9, 0], [0, 0, 9]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> found = voxels_at(wedge, np.full(3, -1.5), 3.0, (5, 5, 5))
    >>> found.inside.sum(axis=(0, 1)).tolist()
    [0, 3, 1, 0, 0]
    """
    x, y, z = origin_mm.tolist()
    nx, ny, nz = shape
    grid = Grid(x, y, pitch_mm, nx, ny)
    met = crossings_of(row_cuts(mesh.vertices, mesh.faces, grid), grid)
    first_above = np.clip(np.ceil((met.z_mm - z) / pitch_mm), 0, nz).astype(np.int64)
    steps = np.bincount(met.cell * (nz + 1) + first_above, met.enters, nx * ny * (nz + 1))
    winding = np.cumsum(steps.reshape(-1, nz + 1).astype(np.int32)[:, :-1], axis=1)
    inside: Bools = (winding != 0).reshape(shape)
    miscounted = int(np.abs(winding - (winding != 0)).sum())
    return Voxels(origin_mm, pitch_mm, inside, miscounted)
