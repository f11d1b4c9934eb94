"""Upright columns through a closed mesh: where each enters the solid and where it leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .rows import Cuts, Grid


@dataclass(frozen=True, eq=False)
class Solids:
    """Every stretch of a column that lies in the solid, by cell and then from below.

    ``cell`` (n,), ``low_mm`` and ``high_mm`` (n,); ``under_face`` (n,) is where it is entered.
    ``undecided`` counts the columns that the surface does not close.
    """

    grid: Grid
    cell: Ints
    low_mm: Floats
    high_mm: Floats
    under_face: Ints
    undecided: int

    @property
    def volume_mm3(self) -> float:
        """What the columns hold."""
        return float((self.high_mm - self.low_mm).sum()) * self.grid.pitch_mm**2


@dataclass(frozen=True, eq=False)
class Crossings:
    """Where the columns meet the surface, by cell and then from below.

    ``cell`` (n,), ``z_mm`` (n,), ``enters`` (n,) is 1 on the way into the solid and -1 out of it,
    ``face`` (n,) the face that is met.
    """

    cell: Ints
    z_mm: Floats
    enters: Ints
    face: Ints


def crossings_of(cuts: Cuts, grid: Grid) -> Crossings:
    """Return where the columns through the cell middles of a grid meet the surface.

    Parameters
    ----------
    cuts : Cuts
        Of the grid's own rows.
    grid : Grid
    """
    first = np.minimum(cuts.at[:, 0], cuts.at[:, 1])
    cut, rank = spread(np.maximum(cuts.at[:, 0], cuts.at[:, 1]) - first)
    i = first[cut] + rank
    start, end = cuts.xz[cut, 0], cuts.xz[cut, 1]
    x = grid.x_mm + i * grid.pitch_mm
    share = np.clip((x - start[:, 0]) / (end[:, 0] - start[:, 0]), 0.0, 1.0)
    z = start[:, 1] + share * (end[:, 1] - start[:, 1])
    enters = np.where(cuts.at[cut, 1] > cuts.at[cut, 0], -1, 1)
    cell = i * grid.ny + cuts.row[cut]
    order = np.lexsort((z, cell))
    return Crossings(cell[order], z[order], enters[order], cuts.face[cut][order])


def solids_of(cuts: Cuts, grid: Grid) -> Solids:
    """Return the solid stretches of the columns through the cell middles of a grid.

    Inside is where the winding number is not zero, so pieces may overlap and cross each other.

    Parameters
    ----------
    cuts : Cuts
        Of the grid's own rows.
    grid : Grid

    References
    ----------
    .. [1] Jacobson, Kavan, Sorkine-Hornung: Robust inside-outside segmentation using generalized
       winding numbers, 2013.
    """
    met = crossings_of(cuts, grid)
    cell, z, enters, face = met.cell, met.z_mm, met.enters, met.face
    after = np.cumsum(enters)
    ends_column = np.append(cell[1:] != cell[:-1], True) if len(cell) else np.zeros(0, bool)
    leftover = np.diff(after[ends_column], prepend=0)
    undecided = int(np.count_nonzero(leftover))
    if undecided:
        bad = cell[ends_column][leftover != 0]
        keep = ~np.isin(cell, bad)
        cell, z, enters, face = cell[keep], z[keep], enters[keep], face[keep]
        after = np.cumsum(enters)
    low = np.flatnonzero((after - enters == 0) & (after != 0))
    high = np.flatnonzero((after - enters != 0) & (after == 0))
    real = z[high] > z[low]
    low, high = low[real], high[real]
    return Solids(grid, cell[low], z[low], z[high], face[low], undecided)
