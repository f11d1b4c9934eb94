"""A line on a surface drawn taut: shorter and smooth, but no dearer by the weights."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .near_surface import NearSurface

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh

_ROUNDS = 32
_COARSEST = 9
_GAP = 2.0
_FILLS = 4


def near_box(mesh: Mesh, line: Floats, reach_mm: float) -> Ints:
    """Return the faces that reach into the box round a line, grown by a reach."""
    low, high = line.min(axis=0) - reach_mm, line.max(axis=0) + reach_mm
    reaches = np.concatenate([mesh.vertices >= low, mesh.vertices <= high], axis=1)
    bits = np.packbits(reaches, axis=1)[:, 0]  # a bit an axis and side: quick to gather by faces
    a, b, c = mesh.faces.T
    return np.flatnonzero(bits[a] | bits[b] | bits[c] == np.packbits([1] * 6)[0])


class WeightedSurface:
    """The triangles near a line, with the weight of their places and where no line may go.

    Parameters
    ----------
    corners : ndarray, shape (m, 3, 3)
        Of the triangles, none much larger than the others.
    weights : ndarray, shape (m,)
    barred : ndarray of bool, shape (m,)
    """

    def __init__(self, corners: Floats, weights: Floats, barred: Bools) -> None:
        self._near = NearSurface(corners)
        self._weights = weights
        self._barred = barred

    def laid(self, line: Floats) -> Floats:
        """Return a line (n, 3) with each point on the nearest place of the surface."""
        return self._near.nearest(line)[0]

    def cost(self, line: Floats) -> float:
        """Return the length of a line times the weight of its places.

        Infinite where barred, and for a line in equal steps with a gap: there it left the surface.
        """
        _, face = self._near.nearest(line)
        steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
        if self._barred[face].any() or steps.max() > _GAP * steps.mean():
            return float("inf")
        weights = self._weights[face]
        return float(steps @ (weights[1:] + weights[:-1]) / 2.0)


def drawn_taut(line: Floats, surface: WeightedSurface, step_mm: float) -> Floats:
    """Return a line on a surface between the same ends, shortened as long as it gets no dearer.

    Points in equal steps move towards the middle of their neighbours and back on the surface, few
    points first: they straighten the whole, then more and more smooth the rest. That shortens the
    line towards a geodesic; where weights make that dearer, it stays as it was.

    Parameters
    ----------
    line : ndarray, shape (n, 3)
        On the surface.
    surface : WeightedSurface
    step_mm : float
        Between the points of the result.

    References
    ----------
    .. [1] Martinez, Velho, Carvalho: Computing geodesics on triangular meshes, Computers &
       Graphics 29, 2005: shortening point by point.
    """
    length = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
    finest = max(int(np.ceil(length / step_mm)) + 1, 3)
    best = surface.laid(in_steps(line, finest))
    least = surface.cost(best)
    count = min(_COARSEST, finest)
    while True:
        trial = surface.laid(in_steps(best, count))
        trial[0], trial[-1] = line[0], line[-1]
        for _ in range(_ROUNDS):
            trial[1:-1] = surface.laid((trial[:-2] + trial[2:]) / 2.0)
        for _ in range(_FILLS):
            trial = surface.laid(in_steps(trial, finest))
        cost = surface.cost(trial)
        if cost <= least:
            best, least = trial, cost
        if count >= finest:
            return best if np.isfinite(least) else line
        count = min(2 * count - 1, finest)


def loop_drawn_taut(loop: Floats, surface: WeightedSurface, step_mm: float) -> Floats:
    """Return a closed line (k, 3) on a surface, shortened as `drawn_taut` does; no point is fixed.

    Its last point is not its first again.
    """
    length = float(np.linalg.norm(loop - np.roll(loop, -1, axis=0), axis=1).sum())
    finest = max(int(np.ceil(length / step_mm)), 6)

    def spread(line: Floats, count: int) -> Floats:
        for _ in range(_FILLS):
            line = surface.laid(in_steps(np.vstack([line, line[:1]]), count + 1)[:-1])
        return line

    best = spread(loop, finest)
    least = surface.cost(np.vstack([best, best[:1]]))
    count = min(_COARSEST, finest)
    while True:
        trial = spread(best, count)
        for _ in range(_ROUNDS):
            trial = surface.laid((np.roll(trial, 1, axis=0) + np.roll(trial, -1, axis=0)) / 2.0)
        trial = spread(trial, finest)
        cost = surface.cost(np.vstack([trial, trial[:1]]))
        if cost <= least:
            best, least = trial, cost
        if count >= finest:
            return best
        count = min(2 * count, finest)


def in_steps(line: Floats, count: int) -> Floats:
    """Return so many points along a line (n, 3), equally far apart on the way.

    Examples
    --------
    >>> in_steps(np.array([[0.0, 0, 0], [1, 0, 0], [4, 0, 0]]), 3)[:, 0].tolist()
    [0.0, 2.0, 4.0]
    """
    way = np.append(0.0, np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1)))
    at = np.linspace(0.0, way[-1], count)
    return np.column_stack([np.interp(at, way, line[:, axis]) for axis in range(line.shape[1])])
