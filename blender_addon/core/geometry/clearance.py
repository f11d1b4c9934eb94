"""The open ground round a shadow in plan: a raster to search in, and exact distances."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..arrays import locked
from .plan import edge_distances_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints

_ROUND = np.ones((3, 3), dtype=bool)
_CELLS_OFF = 4


@dataclass(frozen=True, eq=False)
class Clearance:
    """A square of ``cells`` by ``cells``; ``field_mm`` [row of y, column of x] tells the distance.

    The field is that of a cell's middle from the nearest cell that the shadow touches, so it is wrong
    by up to a cell. It is 0 there, and in what the shadow encloses: nothing gets in from outside.
    ``rim`` (k, 2, 2) holds the edges next to open cells.
    """

    low_mm: Floats
    pitch_mm: float
    field_mm: Floats
    rim: Floats

    def open_middles(self, least_mm: float) -> tuple[Floats, Floats]:
        """Return the middles (n, 2) of cells at least that far from the shadow, and how far (n,)."""
        rows, columns = np.nonzero((self.field_mm >= least_mm) & (self.field_mm > 0.0))
        middles = self.low_mm + self.pitch_mm * (np.column_stack([columns, rows]) + 0.5)
        return middles, self.field_mm[rows, columns]

    def about_mm(self, points: Floats) -> Floats:
        """Return the field at points (n, 2); beyond the raster, at its nearest cell."""
        cells = np.clip(self._cells(points), 0, len(self.field_mm) - 1)
        return self.field_mm[cells[:, 1], cells[:, 0]]

    def exact_mm(self, points: Floats, rim: Floats | None = None) -> Floats:
        """Return the distance from the shadow, exact from two cells on; 0 in cells that it touches."""
        far = edge_distances_mm(points, self.rim if rim is None else rim)
        return np.where(self.about_mm(points) > 0.0, far, 0.0)

    def rim_near(self, point: Floats, reach_mm: float) -> Floats:
        """Return the rim's edges that may be nearest for some point within ``reach_mm``."""
        ends = np.linalg.norm(self.rim - point, axis=2).min(axis=1)
        half = np.linalg.norm(self.rim[:, 1] - self.rim[:, 0], axis=1) / 2.0
        nearest = edge_distances_mm(point[None], self.rim)[0]
        return self.rim[ends - half <= nearest + 2.0 * reach_mm]

    def _cells(self, points: Floats) -> Ints:
        cells: Ints = np.floor((points - self.low_mm) / self.pitch_mm).astype(np.int64)
        return cells


def clearance(edges: Floats, middle: Floats, half_mm: float, cells: int) -> Clearance:
    """Return the open ground round a shadow, from all its edges (k, 2, 2).

    Parameters
    ----------
    edges : ndarray, shape (k, 2, 2)
        Of `shadow_edges`, or the ``rim`` of an earlier raster.
    middle : ndarray, shape (2,)
        Of the square.
    half_mm : float
        Half its side; the shadow should lie inside.
    cells : int
        Along its side.

    Examples
    --------
    >>> ends = np.array([[0, 0], [4, 0], [4, 4], [0, 4], [0, 0]], float)
    >>> ground = clearance(np.stack([ends[:-1], ends[1:]], axis=1), np.array([2.0, 2.0]), 10.0, 100)
    >>> float(ground.exact_mm(np.array([[7.0, 8.0]]))[0])
    5.0
    """
    pitch = 2.0 * half_mm / cells
    low = middle - half_mm
    points, owner = _along(edges, pitch / 2.0)
    at = np.floor((points - low) / pitch).astype(np.int64)
    inside = ((at >= 0) & (at < cells)).all(axis=1)
    at, owner = at[inside], owner[inside]
    touched = np.zeros((cells, cells), dtype=bool)
    touched[at[:, 1], at[:, 0]] = True
    taken: Bools = ndimage.binary_fill_holes(touched)
    near = ndimage.binary_dilation(~taken, structure=_ROUND, iterations=_CELLS_OFF)
    rim = np.zeros(len(edges), dtype=bool)
    rim[owner[near[at[:, 1], at[:, 0]]]] = True
    field = ndimage.distance_transform_edt(~taken) * pitch
    return Clearance(
        locked(low, np.float64), pitch, locked(field, np.float64), locked(edges[rim], np.float64)
    )


def _along(edges: Floats, step_mm: float) -> tuple[Floats, Ints]:
    """Return points on the edges no farther apart than a step, and the edge that each lies on."""
    length = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1)
    count = np.ceil(length / step_mm).astype(np.int64) + 1
    owner = np.repeat(np.arange(len(edges)), count)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    share = place / np.maximum(count[owner] - 1, 1)
    start = edges[owner, 0]
    return start + share[:, None] * (edges[owner, 1] - start), owner
