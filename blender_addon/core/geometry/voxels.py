"""Which cells of a regular grid lie inside a solid: by winding number along vertical lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import SCANLINE_CHUNK

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh


@dataclass(frozen=True, eq=False)
class Voxels:
    """Cubes of a grid; ``origin_mm`` is the middle of cell 0, 0, 0; ``inside`` is (nx, ny, nz).

    ``overlapping`` counts how often cells lie inside once more than they need to.
    """

    origin_mm: Floats
    pitch_mm: float
    inside: Bools
    overlapping: int

    def centers_mm(self, cells: Ints) -> Floats:
        """Return the middles (k, 3) of cells given by their numbers (k, 3)."""
        centers: Floats = self.origin_mm + self.pitch_mm * cells
        return centers

    def cells_of(self, points_mm: Floats) -> Ints:
        """Return the numbers (k, 3) of the cells that points (k, 3) lie in, of the grid or not."""
        cells: Ints = np.rint((points_mm - self.origin_mm) / self.pitch_mm).astype(np.int64)
        return cells


def solid_voxels(mesh: Mesh, pitch_mm: float) -> Voxels:
    """Return the cells whose middle lies inside a solid, with an empty cell all round.

    Parameters
    ----------
    mesh : Mesh
        Closed. It may cross itself and have several pieces, overlapping or inside out: inside is
        where the winding number is not zero.
    pitch_mm : float
        Side of a cell.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [9, 0, 0], [0, 9, 0], [0, 0, 9]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> solid_voxels(wedge, 3.0).inside.sum(axis=(0, 1)).tolist()
    [0, 3, 1, 0, 0]
    """
    low, high = mesh.bounds
    counts = np.ceil((high - low) / pitch_mm).astype(np.int64) + 2
    return voxels_at(mesh, low - pitch_mm / 2.0, pitch_mm, (counts[0], counts[1], counts[2]))


def voxels_at(
    mesh: Mesh, origin_mm: Floats, pitch_mm: float, shape: tuple[int, int, int]
) -> Voxels:
    """Return as `solid_voxels` the cells of a given grid.

    A line through a vertex or an edge counts as if it ran a hair beside it, the same way for every
    triangle, so that a closed mesh never leaks into a line.
    """
    steps = np.zeros((shape[0] * shape[1], shape[2] + 1), dtype=np.int32)
    corners = (mesh.corners - origin_mm) / pitch_mm  # cell middles lie at whole numbers
    for line, at, sign in _piercings(corners, shape[0], shape[1]):
        first_above = np.clip(np.ceil(at), 0, shape[2]).astype(np.int64)
        np.add.at(steps, (line, first_above), sign)
    winding = np.cumsum(steps[:, :-1], axis=1, out=steps[:, :-1])
    inside: Bools = (winding != 0).reshape(shape)
    overlapping = int(np.abs(winding).sum()) - int(np.count_nonzero(inside))
    return Voxels(origin_mm, pitch_mm, inside, overlapping)


def _piercings(corners: Floats, nx: int, ny: int) -> Iterator[tuple[Ints, Floats, Ints]]:
    """Yield line number, height and sign (+1 where a line enters from below) of every crossing."""
    a, b, c = (corners[:, k, :2] for k in range(3))  # far faster than the least along an axis
    low = np.maximum(np.ceil(np.minimum(np.minimum(a, b), c)), 0).astype(np.int64)
    high = np.floor(np.maximum(np.maximum(a, b), c))
    high = np.minimum(high, [nx - 1, ny - 1]).astype(np.int64)
    wide = np.maximum(high - low + 1, 0)
    met = np.flatnonzero(wide[:, 0] * wide[:, 1])
    low, wide = low[met], wide[met]
    ends = np.cumsum(wide.prod(axis=1))
    cuts = np.searchsorted(ends, np.arange(0, ends[-1] if len(ends) else 0, SCANLINE_CHUNK))
    for first, last in zip(cuts, [*cuts[1:], len(met)], strict=True):
        part = slice(first, last)
        face, x, y = _lines_in_boxes(low[part], wide[part])
        face = met[part][face]
        yield from _pierced(corners, face, x, y, ny)


def _lines_in_boxes(low: Ints, wide: Ints) -> tuple[Ints, Ints, Ints]:
    count = wide.prod(axis=1)
    box = np.repeat(np.arange(len(count)), count)
    place = np.arange(len(box)) - (np.cumsum(count) - count)[box]
    return box, low[box, 0] + place // wide[box, 1], low[box, 1] + place % wide[box, 1]


def _pierced(
    corners: Floats, face: Ints, x: Ints, y: Ints, ny: int
) -> Iterator[tuple[Ints, Floats, Ints]]:
    a, b, c = (corners[face, k] for k in range(3))
    sides = [_side(p, q, x, y) for p, q in ((b, c), (c, a), (a, b))]
    left = np.stack([side > 0 for side, _ in sides])
    hit = left.all(axis=0) | ~left.any(axis=0)
    weights = np.stack([value for _, value in sides])[:, hit]
    total = weights.sum(axis=0)
    steep = total == 0.0  # a sliver seen edge-on, met by a hair: any of its heights will do
    weights[:, steep], total[steep] = 1.0, 3.0
    heights = np.stack([corner[hit, 2] for corner in (a, b, c)])
    at = (weights * heights).sum(axis=0) / total
    sign = np.where(left[0, hit], -1, 1).astype(np.int64)
    yield x[hit] * ny + y[hit], at, sign


def _side(p: Floats, q: Floats, x: Ints, y: Ints) -> tuple[Ints, Floats]:
    """Return +1 where (x, y) lies left of p to q, else -1, and twice the area spanned.

    Computed from the same end for both triangles of an edge, so that they agree to the last digit.
    """
    swap = (p[:, 0] > q[:, 0]) | ((p[:, 0] == q[:, 0]) & (p[:, 1] > q[:, 1]))
    s, e = np.where(swap[:, None], q, p), np.where(swap[:, None], p, q)
    area = (e[:, 0] - s[:, 0]) * (y - s[:, 1]) - (e[:, 1] - s[:, 1]) * (x - s[:, 0])
    turn = np.where(swap, -1, 1)
    return np.where(area >= 0.0, 1, -1) * turn, area * turn
