"""The surface that parts two halves: near a plane, through the piece's outline, keyed outside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..constants.cut import (
    LEAST_TEETH_MM,
    LONG_WAVE_MM,
    LONG_WAVE_SHARE,
    MARK_MARGIN_MM,
    PARTING_CELLS,
    PARTING_ROUNDS,
    PARTING_SOFT_CELLS,
    PROOF_MARGIN_MM,
    TEETH_PITCH_MM,
)
from ..geometry.columns import solids_of
from ..geometry.connect import chosen_faces, piece_of_faces
from ..geometry.mesh import Mesh
from ..geometry.rows import Grid, row_cuts
from ..units import CM2_PER_MM2

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..case.result import CaseResult
    from ..geometry.columns import Solids
    from .settings import CutSettings
    from .undercut import Split
    from .way import Ground


@dataclass(frozen=True, eq=False)
class Parting:
    """How far along the pull the surface lies (nx, ny), over cells across (x) and up (y).

    ``inside`` (nx, ny) are the cells where it lies in the piece. ``tooth_mm`` is the pitch of its
    teeth, 0 where there is no room for any. ``barred`` tells that marks push it so far off the
    piece that a half would not come off.
    """

    split: Split
    grid: Grid
    along_mm: Floats
    inside: Bools
    tooth_mm: float
    barred: bool

    def along_at(self, across_mm: Floats, z_mm: Floats) -> Floats:
        """Return how far along it lies at places (n,), straight between the cells."""
        grid = self.grid
        at = [(across_mm - grid.x_mm) / grid.pitch_mm, (z_mm - grid.y_mm) / grid.pitch_mm]
        found: Floats = ndimage.map_coordinates(self.along_mm, at, order=1, mode="nearest")
        return found

    def side_of(self, points: Floats) -> Floats:
        """Return how far points (n, 3) of the job's frame lie before it, along the pull."""
        across, z, along = (points @ self.split.frame.T).T
        off: Floats = along - self.along_at(across, z)
        return off

    @property
    def solid(self) -> Mesh:
        """Everything before the surface, as a closed mesh in the job's frame."""
        nx, ny = self.along_mm.shape
        far = float(self.along_mm.max()) + _far_mm(self.grid)
        x = self.grid.x_mm + self.grid.pitch_mm * np.arange(nx)
        y = self.grid.y_mm + self.grid.pitch_mm * np.arange(ny)
        across, up = np.meshgrid(x, y, indexing="ij")
        layers = [np.stack([across, up, s], axis=-1).reshape(-1, 3)
                  for s in (self.along_mm, np.full((nx, ny), far))]  # fmt: skip
        faces = _slab_faces(nx, ny)
        return Mesh(np.vstack(layers) @ self.split.frame, faces)


def parting_of(
    case: CaseResult, ground: Ground, split: Split, give_mm: float, settings: CutSettings
) -> Parting:
    """Return the parting surface of a split.

    Where a line along the pull meets the piece, the surface passes through it; of several
    stretches, through the one nearest to the plane. Only near the piece's outline it need not: as
    far as the rubber gives to the side, it slips off. The surface is as flat as that allows, like a
    soap film over the outline, and leaves what is marked whole on one side. Beyond the straight
    part it gets teeth along the outline and long waves, as far as they keep off the piece.

    Parameters
    ----------
    case : CaseResult
        The block.
    ground : Ground
        The master in it, and the marks on it.
    split : Split
    give_mm : float
        How far to the side the rubber gives.
    settings : CutSettings
        Straight part, tooth, distance to keep.
    """
    master = ground.mesh
    grid = _grid(case)
    turned = master.vertices @ split.frame.T
    solids = solids_of(row_cuts(turned, master.faces, grid), grid)
    low, high = _nearest_stretch(solids, split.at_mm)
    held = ndimage.distance_transform_edt(np.isfinite(low)) * grid.pitch_mm > give_mm
    low, high = np.where(held, low, -np.inf), np.where(held, high, np.inf)
    film = _film(low, high, split.at_mm)
    film = np.clip(film, *_marked_bounds(ground, turned, split, grid))
    inside = _holds(solids, film)
    strained = np.maximum(low - film, film - high) > MARK_MARGIN_MM / 2.0
    room = _room_mm(solids, film, inside, grid, settings)
    pitch = settings.tooth_mm or float(np.clip(2.0 * np.median(room[~inside]), *TEETH_PITCH_MM))
    teeth = _teeth_mm(grid, room, pitch)
    toothed = pitch if (np.abs(teeth) > LEAST_TEETH_MM / 2.0).any() else 0.0
    barred = bool(ground.barred.any() and strained.any())
    return Parting(split, grid, film + teeth, inside, toothed, barred)


def _far_mm(grid: Grid) -> float:
    return grid.pitch_mm * float(np.hypot(grid.nx, grid.ny))


def _grid(case: CaseResult) -> Grid:
    """Return cells over the block from any side, a little beyond it."""
    margin = PROOF_MARGIN_MM
    wide = case.bore.reach_mm + margin
    pitch = max(2.0 * wide, case.level_z_mm) / PARTING_CELLS
    nx = int(np.ceil(2.0 * wide / pitch)) + 1
    ny = int(np.ceil((case.level_z_mm + 2.0 * margin) / pitch)) + 1
    return Grid(-(nx - 1) / 2.0 * pitch, -margin, pitch, nx, ny)


def _nearest_stretch(solids: Solids, at_mm: float) -> tuple[Floats, Floats]:
    """Return for each cell (nx, ny) the ends of the stretch nearest to the plane, else inf."""
    grid = solids.grid
    off = np.maximum(np.maximum(solids.low_mm - at_mm, at_mm - solids.high_mm), 0.0)
    order = np.lexsort((off, solids.cell))
    cells, first = np.unique(solids.cell[order], return_index=True)
    low, high = np.full(grid.nx * grid.ny, -np.inf), np.full(grid.nx * grid.ny, np.inf)
    low[cells], high[cells] = solids.low_mm[order[first]], solids.high_mm[order[first]]
    return low.reshape(grid.nx, grid.ny), high.reshape(grid.nx, grid.ny)


def _holds(solids: Solids, film: Floats) -> Bools:
    """Return the cells (nx, ny) where a surface lies in the solid."""
    at = film.ravel()[solids.cell]
    held = np.zeros(film.size, dtype=np.bool_)
    held[solids.cell[(solids.low_mm <= at) & (at <= solids.high_mm)]] = True
    return held.reshape(film.shape)


def _marked_bounds(
    ground: Ground, turned: Floats, split: Split, grid: Grid
) -> tuple[Floats, Floats]:
    """Return between what the surface must stay (nx, ny) so that no marked patch is cut."""
    low, high = np.full(grid.nx * grid.ny, -np.inf), np.full(grid.nx * grid.ny, np.inf)
    for patch in _patches(ground):
        spots = turned[patch]
        cells = ((spots[:, :2] - [grid.x_mm, grid.y_mm]) / grid.pitch_mm).round().astype(np.int64)
        cell = cells[:, 0] * grid.ny + cells[:, 1]
        if spots[:, 2].mean() > split.at_mm:
            np.minimum.at(high, cell, spots[:, 2] - MARK_MARGIN_MM)
        else:
            np.maximum.at(low, cell, spots[:, 2] + MARK_MARGIN_MM)
    wide = 2 * int(np.ceil(MARK_MARGIN_MM / grid.pitch_mm)) + 1
    shape = (grid.nx, grid.ny)
    low = ndimage.maximum_filter(low.reshape(shape), wide, mode="nearest")
    return low, np.maximum(ndimage.minimum_filter(high.reshape(shape), wide, mode="nearest"), low)


def _patches(ground: Ground) -> list[Ints]:
    """Return the vertices of each patch of faces that are marked and hang together."""
    marked = np.flatnonzero(ground.barred)
    if not len(marked):
        return []
    part = chosen_faces(ground.mesh, marked)
    count, patch = piece_of_faces(part)
    faces = ground.mesh.faces[marked]
    return [np.unique(faces[patch == number]) for number in range(count)]


def _film(low: Floats, high: Floats, at_mm: float) -> Floats:
    """Return the flattest surface between two, by taking the mean of neighbours over and over."""
    film = np.clip(np.full(low.shape, at_mm), low, high)
    for size in (15, 9, 5, 3):
        for _ in range(PARTING_ROUNDS):
            film = np.clip(ndimage.uniform_filter(film, size, mode="nearest"), low, high)
    soft: Floats = ndimage.gaussian_filter(film, PARTING_SOFT_CELLS, mode="nearest")
    return soft


def _room_mm(
    solids: Solids, film: Floats, inside: Bools, grid: Grid, settings: CutSettings
) -> Floats:
    """Return how far teeth may go to each side (nx, ny) and stay off the piece."""
    beside = ndimage.distance_transform_edt(~inside) * grid.pitch_mm
    near = np.full(film.size, np.inf)
    at = film.ravel()[solids.cell]
    gap = np.maximum(np.maximum(solids.low_mm - at, at - solids.high_mm), 0.0)
    np.minimum.at(near, solids.cell, gap)
    window = 2 * int(np.ceil(settings.keep_off_mm / grid.pitch_mm)) + 1
    gap_near = ndimage.minimum_filter(near.reshape(film.shape), window, mode="nearest")
    free = np.minimum(beside - settings.straight_mm, gap_near - settings.keep_off_mm)
    free = np.where(beside < settings.keep_off_mm + grid.pitch_mm, 0.0, free)
    return np.clip(free, 0.0, None)


def _teeth_mm(grid: Grid, room: Floats, pitch: float) -> Floats:
    """Return teeth and long waves (nx, ny): zig-zag upward at the sides, sideways over the top."""
    x = grid.x_mm + grid.pitch_mm * np.arange(grid.nx)
    y = grid.y_mm + grid.pitch_mm * np.arange(grid.ny)
    way = np.abs(x)[:, None] + y[None, :]
    phase = way / pitch
    zigzag = 4.0 * np.abs(phase - np.floor(phase + 0.5)) - 1.0
    long = np.sin(2.0 * np.pi * LONG_WAVE_SHARE * way)
    tooth = np.minimum(room, pitch / 4.0)
    waves: Floats = tooth * zigzag + np.clip(room - tooth, 0.0, LONG_WAVE_MM) * long
    return np.where(room < LEAST_TEETH_MM, 0.0, waves)


def _slab_faces(nx: int, ny: int) -> Ints:
    """Return the faces of a slab between two grids of points; the second lies before the first."""
    number = np.arange(nx * ny).reshape(nx, ny)
    a, b = number[:-1, :-1].ravel(), number[1:, :-1].ravel()
    c, d = number[1:, 1:].ravel(), number[:-1, 1:].ravel()
    back = np.vstack([np.column_stack([a, c, b]), np.column_stack([a, d, c])])
    front = back[:, ::-1] + nx * ny
    rim = np.concatenate([number[:, 0], number[-1, 1:], number[-2::-1, -1], number[0, -2:0:-1]])
    ahead = np.roll(rim, -1)
    over, over_ahead = rim + nx * ny, ahead + nx * ny
    walls = np.vstack(
        [np.column_stack([rim, ahead, over_ahead]), np.column_stack([rim, over_ahead, over])]
    )
    return np.vstack([back, front, walls])


def outside_mm(parting: Parting, case: CaseResult) -> tuple[Floats, Floats, Floats]:
    """Return the surface's edge on the block's outside: up one side, over the top, down the other.

    Each is a line (k, 3) in the job's frame; the sides begin and end at the board.
    """
    grid, frame = parting.grid, parting.split.frame
    heights = np.arange(0.0, case.level_z_mm, grid.pitch_mm)
    heights = np.append(heights, case.level_z_mm)
    ends = np.array([_walls_mm(parting, case, float(z)) for z in heights])
    lines = []
    for across in ends.T:
        places = np.column_stack([across, heights, parting.along_at(across, heights)])
        lines.append(places @ frame)
    steps = np.arange(max(int(np.ptp(ends[-1]) / grid.pitch_mm), 2), dtype=np.float64)
    over = ends[-1, 0] + np.ptp(ends[-1]) * steps / steps[-1]
    level = np.full(len(over), case.level_z_mm)
    top = np.column_stack([over, level, parting.along_at(over, level)]) @ frame
    return lines[0], top, lines[1][::-1]


def _walls_mm(parting: Parting, case: CaseResult, z_mm: float) -> tuple[float, float]:
    """Return how far across the surface leaves the block to either side, at a height."""
    grid = parting.grid
    across: Floats = grid.x_mm + grid.pitch_mm * np.arange(grid.nx, dtype=np.float64)
    height: Floats = np.full(grid.nx, z_mm, dtype=np.float64)
    places = np.column_stack([across, height, parting.along_at(across, height)])
    inside = case.bore.distances_mm((places @ parting.split.frame)[:, :2])
    held = np.flatnonzero(inside > 0.0)
    if not len(held):
        return 0.0, 0.0
    ends = []
    for last, beyond in ((held[0], held[0] - 1), (held[-1], held[-1] + 1)):
        share = inside[last] / (inside[last] - inside[beyond])
        ends.append(float(across[last] + share * (across[beyond] - across[last])))
    return ends[0], ends[1]


def depths_mm(parting: Parting, case: CaseResult, z_mm: float) -> tuple[float, float]:
    """Return how deep the knife goes from either side at a height, to the piece or half through."""
    grid = parting.grid
    row = int(np.clip(round((z_mm - grid.y_mm) / grid.pitch_mm), 0, grid.ny - 1))
    low, high = _walls_mm(parting, case, z_mm)
    met = np.flatnonzero(parting.inside[:, row])
    if not len(met):
        return (high - low) / 2.0, (high - low) / 2.0
    first, last = grid.x_mm + grid.pitch_mm * met[[0, -1]]
    return max(float(first) - low, 0.0), max(high - float(last), 0.0)


def area_cm2(parting: Parting, case: CaseResult) -> float:
    """Return how much rubber the knife goes through, the slopes of the surface counted."""
    grid = parting.grid
    x = grid.x_mm + grid.pitch_mm * np.arange(grid.nx)
    y = grid.y_mm + grid.pitch_mm * np.arange(grid.ny)
    across, up = (one.ravel() for one in np.meshgrid(x, y, indexing="ij"))
    places = np.column_stack([across, up, parting.along_mm.ravel()]) @ parting.split.frame
    rubber = ~parting.inside.ravel() & (up >= 0.0) & (up <= case.level_z_mm)
    rubber &= case.bore.distances_mm(places[:, :2]) > 0.0
    slopes = np.gradient(parting.along_mm, grid.pitch_mm)
    cells = np.sqrt(1.0 + slopes[0] ** 2 + slopes[1] ** 2).ravel() * grid.pitch_mm**2
    return float(cells[rubber].sum()) * CM2_PER_MM2
