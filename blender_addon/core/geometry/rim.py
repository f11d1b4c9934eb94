"""The outer rim of a shadow in plan, and the bays in it that widen inward."""

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
_ROUNDS = 30
_SHRINK = 0.7
_SHIFTS = np.stack(np.meshgrid(*[np.linspace(-1.0, 1.0, 7)] * 2), axis=-1).reshape(-1, 2)


@dataclass(frozen=True, eq=False)
class Rim:
    """What of a shadow faces open ground.

    ``edges`` (k, 2, 2) lie next to it; ``points`` (n, 2) lie on them within a cell of open ground,
    no farther apart than half a cell.
    ``bays`` (b, 2) are the middles of the widest discs that lie in the bays without touching any
    line from outside, ``bay_mm`` (b,) their radii. What the shadow encloses does not count: nothing
    gets in from outside, nor through a gap narrower than about two cells.
    """

    edges: Floats
    points: Floats
    bays: Floats
    bay_mm: Floats


def outer_rim(edges: Floats, cell_mm: float, least_mm: float, most: int) -> Rim:
    """Return the rim of a shadow and its widest bays.

    Parameters
    ----------
    edges : ndarray, shape (k, 2, 2)
        Of `shadow_edges`, in mm.
    cell_mm : float
        Width of the cells that tell outside from inside.
    least_mm : float
        Radius from which a bay counts.
    most : int
        How many bays to keep at most.

    Examples
    --------
    >>> ends = np.array([[0, 0], [4, 0], [4, 4], [0, 4], [0, 0]], float)
    >>> hole = ends[::-1] / 4 + 1
    >>> both = [np.stack([loop[:-1], loop[1:]], axis=1) for loop in (ends, hole)]
    >>> len(outer_rim(np.vstack(both), 0.1, 0.3, 5).edges)
    4
    """
    low = edges.reshape(-1, 2).min(axis=0) - (_CELLS_OFF + 1.5) * cell_mm
    points, owner = _along(edges, cell_mm / 2.0)
    at = np.floor((points - low) / cell_mm).astype(np.int64)
    touched = np.zeros(at.max(axis=0) + _CELLS_OFF + 3, dtype=bool)
    touched[at[:, 0], at[:, 1]] = True
    taken: Bools = ndimage.binary_fill_holes(touched)
    bank = ndimage.binary_dilation(~taken, structure=_ROUND)
    near = ndimage.binary_dilation(bank, structure=_ROUND, iterations=_CELLS_OFF)
    outer = np.zeros(len(edges), dtype=bool)
    outer[owner[near[at[:, 0], at[:, 1]]]] = True
    kept = edges[outer]
    cells = _peaks(ndimage.distance_transform_edt(~taken) * cell_mm, least_mm, most)
    bays = [_widest_near(spot, kept, cell_mm) for spot in low + cell_mm * (cells + 0.5)]
    radius = edge_distances_mm(np.reshape(bays, (-1, 2)), kept)
    return Rim(
        edges=locked(kept, np.float64),
        points=locked(points[bank[at[:, 0], at[:, 1]]], np.float64),
        bays=locked(np.reshape(bays, (-1, 2)), np.float64),
        bay_mm=locked(radius, np.float64),
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


def _peaks(field_mm: Floats, least_mm: float, most: int) -> Ints:
    """Return the cells (n, 2) where a field has its highest peaks away from the border."""
    peak = field_mm == ndimage.maximum_filter(field_mm, size=5, mode="nearest")
    peak[[0, 1, -2, -1]] = False
    peak[:, [0, 1, -2, -1]] = False
    cells = np.argwhere(peak & (field_mm >= least_mm) & (field_mm > 0.0))
    radius = field_mm[cells[:, 0], cells[:, 1]]
    kept: list[int] = []
    for one in np.argsort(-radius, kind="stable"):
        apart = np.linalg.norm(cells[kept] - cells[one], axis=1)
        if len(kept) < most and (apart > _CELLS_OFF).all():
            kept.append(int(one))
    return cells[kept]


def _widest_near(spot: Floats, edges: Floats, cell_mm: float) -> Floats:
    """Return the point within two cells that is farthest from the edges."""
    span = cell_mm
    ends = np.linalg.norm(edges - spot, axis=2).min(axis=1)
    half = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1) / 2.0
    near = edges[ends - half <= edge_distances_mm(spot[None], edges)[0] + 8.0 * cell_mm]
    start = spot
    for _ in range(_ROUNDS):
        spots = np.clip(spot + span * _SHIFTS, start - 2.0 * cell_mm, start + 2.0 * cell_mm)
        spot = spots[edge_distances_mm(spots, near).argmax()]
        span *= _SHRINK
    return spot
