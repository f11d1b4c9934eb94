"""The air round the master as column intervals, and the passages between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.columns import Reading, Solids, solids_of
from ..geometry.ranges import spread
from ..geometry.rows import Cuts, Grid, grid_over, row_cuts
from .gaps import gaps_of, passable_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh

VENT = 0
"""The number of the space that is open to the top of the case; every other has a roof."""


@dataclass(frozen=True, eq=False)
class Spaces:
    """The air, space by space: k > 0 has a roof, 0 is the vent.

    Space k lies in ``cell[k]`` from ``floor_mm`` to ``ceiling_mm``; a floor of -inf is the board.
    ``roof_face`` and ``floor_face`` are what bounds it there, -1 for the board. ``open_floor_mm``
    (nx * ny,) is where the vent begins in each cell. ``solids`` is what they were found round.
    """

    grid: Grid
    cell: Ints
    floor_mm: Floats
    ceiling_mm: Floats
    open_floor_mm: Floats
    solids: Solids
    roof_face: Ints
    floor_face: Ints

    def middle_mm(self, space: int) -> tuple[float, float]:
        """Return x, y of the middle of a space's cell."""
        i, j = divmod(int(self.cell[space]), self.grid.ny)
        pitch = self.grid.pitch_mm
        return self.grid.x_mm + i * pitch, self.grid.y_mm + j * pitch


@dataclass(frozen=True, eq=False)
class Passages:
    """Ways between two spaces, ``ends`` (k, 2): air at ``level_mm`` just passes, at ``at_mm``."""

    ends: Ints
    level_mm: Floats
    at_mm: Floats


def spaces_and_passages(
    mesh: Mesh, base_faces: Bools, pitch_mm: float, reading: Reading = Reading.LIKELY
) -> tuple[Spaces, Passages]:
    """Cut the air round a closed mesh into columns and find how it hangs together.

    Parameters
    ----------
    mesh : Mesh
        Closed, upright.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser: below them is no air.
    pitch_mm : float
        Width of the columns.
    reading : Reading, optional
        Of columns that are in doubt.
    """
    grid = grid_over(mesh.vertices, pitch_mm)
    cuts = row_cuts(mesh.vertices, mesh.faces, grid)
    solids = solids_of(cuts, grid, reading)
    spaces = _spaces(solids, base_faces)
    unparted = _unparted(solids, reading)
    along_x = _passages(spaces, cuts, grid, unparted)
    over = grid.turned_over
    flipped = row_cuts(mesh.vertices[:, [1, 0, 2]], mesh.faces[:, ::-1], over)
    along_y = _passages(
        _turned_over(spaces), flipped, over, unparted.reshape(grid.nx, grid.ny).T.ravel()
    )
    return spaces, Passages(
        np.vstack([along_x.ends, along_y.ends]),
        np.concatenate([along_x.level_mm, along_y.level_mm]),
        np.vstack([along_x.at_mm, along_y.at_mm[:, ::-1]]),
    )


def _spaces(solids: Solids, base_faces: Bools) -> Spaces:
    cell, size = solids.cell, solids.grid.nx * solids.grid.ny
    same = np.append(False, cell[1:] == cell[:-1]) if len(cell) else np.zeros(0, dtype=bool)
    below = np.append(-np.inf, solids.high_mm[:-1]) if len(cell) else np.zeros(0)
    floor_mm = np.where(same, below, -np.inf)
    under = np.append(-1, solids.over_face[:-1]) if len(cell) else np.zeros(0, dtype=np.int64)
    open_floor_mm = np.full(size, -np.inf)
    open_floor_mm[cell] = solids.high_mm  # the topmost of a cell is written last
    air = (floor_mm < solids.low_mm) & ~base_faces[solids.under_face]
    return Spaces(
        solids.grid,
        np.append(-1, cell[air]),
        np.append(-np.inf, floor_mm[air]),
        np.append(np.inf, solids.low_mm[air]),
        open_floor_mm,
        solids,
        np.append(-1, solids.under_face[air]),
        np.append(-1, np.where(same, under, -1)[air]),
    )


def _turned_over(spaces: Spaces) -> Spaces:
    """Return the same spaces, in the same order, on the grid with x and y exchanged."""
    nx, ny = spaces.grid.nx, spaces.grid.ny
    i, j = np.divmod(spaces.cell, ny)
    return Spaces(
        spaces.grid.turned_over,
        np.where(spaces.cell < 0, -1, j * nx + i),
        spaces.floor_mm,
        spaces.ceiling_mm,
        spaces.open_floor_mm.reshape(nx, ny).T.ravel(),
        spaces.solids,
        spaces.roof_face,
        spaces.floor_face,
    )


def _unparted(solids: Solids, reading: Reading) -> Bools:
    """Return the cells (nx * ny,) round which surface parts nothing: it bounds what is air here."""
    found = np.zeros(solids.grid.nx * solids.grid.ny, dtype=bool)
    if reading is Reading.EMPTY:
        found[solids.inside_out.cell] = True
    return found


def _passages(spaces: Spaces, cuts: Cuts, grid: Grid, unparted: Bools) -> Passages:
    """Return the passages along the rows of the grid."""
    ends, gap, vent_floor_mm = _neighbours(spaces, grid)
    floors = np.where(ends == VENT, vent_floor_mm[:, None], spaces.floor_mm[ends])
    ceiling_mm = spaces.ceiling_mm[ends].min(axis=1)
    meet = floors.max(axis=1) < ceiling_mm
    ends, gap, ceiling_mm, floors = ends[meet], gap[meet], ceiling_mm[meet], floors[meet]
    wanted = np.zeros(grid.nx * grid.ny, dtype=bool)
    wanted[gap] = True
    gaps = gaps_of(cuts, grid, wanted)
    level_mm, x_mm = passable_mm(gaps, gap, floors.min(axis=1), ceiling_mm)
    loose = unparted[gap] | unparted[gap + grid.ny]
    level_mm, x_mm = np.where(loose, ceiling_mm, level_mm), np.where(loose, np.nan, x_mm)
    i, j = np.divmod(gap, grid.ny)
    middle = grid.x_mm + (i + 0.5) * grid.pitch_mm
    at_mm = np.column_stack([np.where(np.isnan(x_mm), middle, x_mm), grid.y_mm + j * grid.pitch_mm])
    free = np.isfinite(level_mm)
    return Passages(ends[free], level_mm[free], at_mm[free])


def _neighbours(spaces: Spaces, grid: Grid) -> tuple[Ints, Ints, Floats]:
    """Return pairs of spaces in cells next to each other, their gap, and the vent's floor there."""
    cell = spaces.cell[1:]
    order = np.argsort(cell, kind="stable")
    ranked = cell[order]
    first = np.searchsorted(ranked, cell + grid.ny, "left")
    owner, rank = spread(np.searchsorted(ranked, cell + grid.ny, "right") - first)
    roofed = np.column_stack([owner, order[first[owner] + rank]]) + 1
    numbers = np.arange(1, len(spaces.cell))
    vented = np.column_stack([numbers, np.full(len(numbers), VENT)])
    ends = np.vstack([roofed, vented, vented])
    gap = np.concatenate([cell[owner], cell, cell - grid.ny])
    beside = np.concatenate([cell[owner], cell + grid.ny, cell - grid.ny])
    return ends, gap, spaces.open_floor_mm[beside]
