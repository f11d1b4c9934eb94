"""Upright columns through a closed mesh: where each enters the solid and where it leaves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..constants.geometry import SKIN_MM
from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .rows import Cuts, Grid


@dataclass(frozen=True, eq=False)
class Stretches:
    """Parts of columns: ``cell`` (k,), from ``low_mm`` to ``high_mm`` (k,)."""

    cell: Ints
    low_mm: Floats
    high_mm: Floats


@dataclass(frozen=True, eq=False)
class Solids:
    """Every stretch of a column that lies in the solid, by cell and then from below.

    ``cell`` (n,), ``low_mm`` and ``high_mm`` (n,); ``under_face`` (n,) is where it is entered,
    ``over_face`` (n,) where it is left. ``unclosed`` (k,) are the cells whose column the surface
    does not close, ``inside_out`` the stretches of the others that the surface goes round the
    wrong way, ``crossed`` the cells where some surface lies in a solid.
    """

    grid: Grid
    cell: Ints
    low_mm: Floats
    high_mm: Floats
    under_face: Ints
    over_face: Ints
    unclosed: Ints
    inside_out: Stretches
    crossed: Ints

    @property
    def topmost(self) -> Ints:
        """The topmost stretch of each cell that has one."""
        last: Ints = np.flatnonzero(np.append(self.cell[1:] != self.cell[:-1], True))
        return last[: len(self.cell)]

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


class Reading(Enum):
    """What is taken for solid where the surface leaves it open.

    ``LIKELY``: a column that the surface does not close is as the nearest one that it does, and
    what is turned inside out, as where a surface crosses itself, is solid. ``FULL`` takes all of
    both for solid, ``EMPTY`` for air; then only the surface itself parts it.
    """

    LIKELY = auto()
    FULL = auto()
    EMPTY = auto()


def solids_of(cuts: Cuts, grid: Grid, reading: Reading = Reading.LIKELY) -> Solids:
    """Return the solid stretches of the columns through the cell middles of a grid.

    Inside is where the winding number is not zero, so pieces may overlap and cross each other.

    Parameters
    ----------
    cuts : Cuts
        Of the grid's own rows.
    grid : Grid
    reading : Reading, optional

    References
    ----------
    .. [1] Jacobson, Kavan, Sorkine-Hornung: Robust inside-outside segmentation using generalized
       winding numbers, 2013.
    """
    met = crossings_of(cuts, grid)
    winding = np.cumsum(met.enters)
    last = np.append(met.cell[1:] != met.cell[:-1], True)[: len(met.cell)]
    unclosed = met.cell[last][np.diff(winding[last], prepend=0) != 0]
    loose = np.isin(met.cell, unclosed)
    closed = _picked(met, ~loose)
    winding = np.cumsum(closed.enters)
    before = winding - closed.enters
    inside, inside_before = winding != 0, before != 0
    if reading is Reading.EMPTY:
        inside, inside_before = winding > 0, before > 0
    low, high = np.flatnonzero(inside & ~inside_before), np.flatnonzero(~inside & inside_before)
    thick = closed.z_mm[high] > closed.z_mm[low]
    low, high = low[thick], high[thick]
    turned = np.flatnonzero(
        (winding < 0) & (np.append(np.diff(closed.z_mm), 0.0)[: len(before)] > 0)
    )
    sure = Solids(
        grid, closed.cell[low], closed.z_mm[low], closed.z_mm[high], closed.face[low],
        closed.face[high], unclosed,
        Stretches(closed.cell[turned], closed.z_mm[turned], closed.z_mm[turned + 1]),
        np.unique(closed.cell[(winding > 1) | (winding < 0)]),
    )  # fmt: skip
    if not len(unclosed):
        return sure
    if reading is Reading.LIKELY:
        return _with_neighbours(sure)
    return _with_walls(sure, _picked(met, loose), full=reading is Reading.FULL)


def _picked(met: Crossings, chosen: Bools) -> Crossings:
    return Crossings(met.cell[chosen], met.z_mm[chosen], met.enters[chosen], met.face[chosen])


def _with_neighbours(sure: Solids) -> Solids:
    """Give each unclosed column the stretches of the nearest closed one in plan."""
    grid = sure.grid
    open_to = np.zeros((grid.nx, grid.ny), dtype=bool)
    open_to.ravel()[sure.unclosed] = True
    _, nearest = ndimage.distance_transform_edt(open_to, return_indices=True)
    like = (nearest[0] * grid.ny + nearest[1]).ravel()[sure.unclosed]
    first = np.searchsorted(sure.cell, like, "left")
    owner, rank = spread(np.searchsorted(sure.cell, like, "right") - first)
    own = first[owner] + rank
    return _merged(
        sure, sure.unclosed[owner], sure.low_mm[own], sure.high_mm[own],
        (sure.under_face[own], sure.over_face[own]),
    )  # fmt: skip


def _with_walls(sure: Solids, loose: Crossings, *, full: bool) -> Solids:
    """Fill the unclosed columns from the lowest surface to the highest, or keep their surfaces."""
    if not full:
        return _merged(sure, loose.cell, loose.z_mm - SKIN_MM, loose.z_mm, (loose.face,) * 2)
    heights = np.concatenate([sure.low_mm, sure.high_mm, loose.z_mm])
    low, high = (np.full(len(sure.unclosed), end) for end in (heights.min(), heights.max()))
    first = loose.face[_first_of(loose.cell)]
    return _merged(sure, sure.unclosed, low, high, (first, first))


def _first_of(cell: Ints) -> Ints:
    return np.flatnonzero(np.append(True, cell[1:] != cell[:-1]))


def _merged(
    sure: Solids, cell: Ints, low_mm: Floats, high_mm: Floats, faces: tuple[Ints, Ints]
) -> Solids:
    cells, lows = np.append(sure.cell, cell), np.append(sure.low_mm, low_mm)
    order = np.lexsort((lows, cells))
    return replace(
        sure,
        cell=cells[order],
        low_mm=lows[order],
        high_mm=np.append(sure.high_mm, high_mm)[order],
        under_face=np.append(sure.under_face, faces[0])[order],
        over_face=np.append(sure.over_face, faces[1])[order],
    )
