"""Where narrow ways out are looked for: near held air, and off surfaces that cross each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..constants.bubbles import CREEP_COLUMNS, CREEP_LEAST_ML
from ..geometry.columns import Reading
from ..units import ML_PER_MM3

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..geometry.rows import Grid
    from .escape import Escapes
    from .spaces import Spaces


def near_held(mesh: Mesh, spaces: Spaces, found: Escapes, held_mm: Floats) -> Bools:
    """Return the faces near columns of air that no wide way lets out: ways on are looked for there.

    Parameters
    ----------
    mesh : Mesh
    spaces : Spaces
    found : Escapes
        As the columns see it.
    held_mm : ndarray, shape (n,)
        How much of each space stays then.
    """
    volume_ml = held_mm * spaces.grid.pitch_mm**2 * ML_PER_MM3
    _, pocket = np.unique(found.gate, return_inverse=True)
    worth = (held_mm > 0.0) & (np.bincount(pocket, volume_ml)[pocket] >= CREEP_LEAST_ML)
    return _faces_near(mesh, spaces.cell[worth], spaces.grid, CREEP_COLUMNS)


def sure_faces(mesh: Mesh, spaces: Spaces, reading: Reading) -> Bools:
    """Return the faces that no surface in a solid is near: what crosses there may shut a way.

    Unless columns in doubt are read as likely, no such column is near either.
    """
    solids = spaces.solids
    cells = solids.crossed
    if reading is not Reading.LIKELY:
        cells = np.concatenate([cells, solids.unclosed, solids.inside_out.cell])
    return ~_faces_near(mesh, cells, spaces.grid, 1)


def _faces_near(mesh: Mesh, cells: Ints, grid: Grid, columns: int) -> Bools:
    """Return the faces (m,) whose box in plan meets some cells or comes that near to them."""
    if not len(cells):
        return np.zeros(len(mesh.faces), dtype=bool)
    marked = np.zeros((grid.nx, grid.ny), dtype=bool)
    marked.ravel()[cells] = True
    near = ndimage.maximum_filter(marked, 2 * columns + 1)
    sums = np.pad(near.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
    (i0, i1), (j0, j1) = (
        _reach(mesh, axis, first, grid.pitch_mm, count)
        for axis, first, count in ((0, grid.x_mm, grid.nx), (1, grid.y_mm, grid.ny))
    )
    found: Bools = sums[i1, j1] - sums[i0, j1] - sums[i1, j0] + sums[i0, j0] > 0
    return found


def _reach(
    mesh: Mesh, axis: int, first_mm: float, pitch_mm: float, count: int
) -> tuple[Ints, Ints]:
    """Return the first cell of each face along an axis, and the one after its last."""
    at = np.rint((mesh.vertices[:, axis] - first_mm) / pitch_mm).clip(0, count - 1)
    a, b, c = at.astype(np.int64)[mesh.faces.T]
    return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c) + 1
