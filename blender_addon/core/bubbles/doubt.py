"""Columns that cannot be decided: how many, where, and by how much air they may mislead."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..geometry.columns import Reading
from ..units import ML_PER_MM3
from .pockets import trapped_air
from .result import Doubt

if TYPE_CHECKING:
    from ..arrays import Bools, Ints
    from ..geometry.columns import Solids
    from ..geometry.mesh import Mesh
    from .pockets import Air


def doubt_of(mesh: Mesh, base_faces: Bools, air: Air) -> Doubt:
    """Return what the columns that cannot be decided may change at the most.

    Solid makes every way out worse and air every way better. So whatever these places are in truth,
    all the trapped air is no more than what stays round them as solids and they hold besides, and
    no less than what stays outside them when all of them are air.

    Parameters
    ----------
    mesh : Mesh
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    air : Air
        As it was found, by the likely reading.
    """
    solids = air.spaces.solids
    turned = solids.inside_out
    cells = np.unique(np.append(solids.unclosed, turned.cell))
    if not len(cells):
        return Doubt()
    pitch = solids.grid.pitch_mm
    full = trapped_air(mesh, base_faces, pitch, Reading.FULL)
    empty = trapped_air(mesh, base_faces, pitch, Reading.EMPTY)
    low, high = mesh.bounds
    length_mm = len(solids.unclosed) * float(high[2] - low[2])
    length_mm += float((turned.high_mm - turned.low_mm).sum())
    held_ml = length_mm * pitch**2 * ML_PER_MM3
    most_ml = full.trapped_ml + held_ml - air.trapped_ml
    least_ml = max(empty.trapped_ml - held_ml, 0.0)
    found = max(most_ml, air.trapped_ml - least_ml, 0.0)
    return Doubt(len(cells), found, _largest_place(mesh, solids, cells))


def _largest_place(mesh: Mesh, solids: Solids, cells: Ints) -> tuple[float, float, float]:
    """Return the column of the largest group of such columns that lies nearest to its middle."""
    grid = solids.grid
    marked = np.zeros((grid.nx, grid.ny), dtype=bool)
    marked.ravel()[cells] = True
    group, _ = ndimage.label(marked, np.ones((3, 3)))
    own = np.argwhere(group == np.bincount(group[marked]).argmax())
    middle = own[np.linalg.norm(own - own.mean(axis=0), axis=1).argmin()]
    x, y = (np.array([grid.x_mm, grid.y_mm]) + grid.pitch_mm * middle).tolist()
    return x, y, _height_mm(mesh, solids, int(middle[0] * grid.ny + middle[1]))


def _height_mm(mesh: Mesh, solids: Solids, cell: int) -> float:
    """Return the height of what is turned inside out in a column, or of its likely lower end."""
    turned = solids.inside_out
    for cells, heights in ((turned.cell, turned.low_mm), (solids.cell, solids.low_mm)):
        own = heights[cells == cell]
        if len(own):
            return float(own[0])
    return float(mesh.bounds[1][2])
