"""The cheapest ways for a slit: over the surface, from the base up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.csgraph import connected_components, dijkstra
from scipy.spatial import KDTree

from ..constants.cut import DOWNWARD_COST, LINKS_TRIED, TAUT_REACH_SHARE
from ..geometry.connect import piece_of_faces
from ..geometry.surface_graph import surface_links
from ..geometry.taut import WeightedSurface, drawn_taut, near_box

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class Ground:
    """The surface that a way is looked for on.

    ``costs`` (n,) is by vertex, ``barred`` (m,) by face: no way leads over those. ``links`` are
    those of `surface_links`, where they are known already.
    """

    mesh: Mesh
    costs: Floats
    barred: Bools
    links: tuple[Ints, Floats] | None = None

    @property
    def barred_vertices(self) -> Bools:
        """The corners of faces that are barred."""
        held = np.zeros(len(self.mesh.vertices), dtype=np.bool_)
        held[self.mesh.faces[self.barred]] = True
        return held


@dataclass(frozen=True, eq=False)
class Ways:
    """The ways over a surface from the same starts: found once, wherever they are to end.

    Parameters
    ----------
    ground : Ground
    starts : ndarray of bool, shape (number of vertices,)
        Any of them.
    step_mm : float
        Between the points of a line.
    """

    ground: Ground
    starts: Bools
    step_mm: float

    def cheapest(self, ends: Bools) -> Floats | None:
        """Return the cheapest line (n, 3) to any of some ends, drawn taut, or None.

        Over edges and straight across them first; then shortened and smoothed while it gets no
        dearer. Downhill counts more than uphill, for a knife that has to come back cuts twice.

        Parameters
        ----------
        ends : ndarray of bool, shape (number of vertices,)
        """
        free = ~self.ground.barred_vertices
        if not (self.starts & free).any() or not (ends & free).any():
            return None
        total, before = self._tree
        goals = np.flatnonzero(ends & free)
        goal = int(goals[total[goals].argmin()])
        if not np.isfinite(total[goal]):
            return None
        way = [goal]
        while before[way[-1]] >= 0:
            way.append(int(before[way[-1]]))
        line = self.ground.mesh.vertices[np.array(way[::-1], dtype=np.int64)]
        if len(line) < 3:
            return line
        return drawn_taut(line, _near(self.ground, line), self.step_mm)

    def highest_reached(self) -> tuple[float, float, float]:
        """Return the highest place that any way leads to: where the last one stops.

        Where all starts are barred, the lowest place of the surface.
        """
        mesh, free = self.ground.mesh, ~self.ground.barred_vertices
        used = np.zeros(len(free), dtype=np.bool_)
        used[mesh.faces] = True
        if not (self.starts & free).any():
            x, y, z = mesh.vertices[np.flatnonzero(used)[mesh.vertices[used, 2].argmin()]].tolist()
            return x, y, z
        pairs, _ = self._links
        ones = np.ones(len(pairs), dtype=np.int8)
        links = coo_matrix((ones, pairs.T), shape=(len(free), len(free)))
        _, part = connected_components(links, directed=False)
        reached = np.flatnonzero(np.isin(part, part[self.starts & free]) & used)
        x, y, z = mesh.vertices[reached[mesh.vertices[reached, 2].argmax()]].tolist()
        return x, y, z

    @cached_property
    def _links(self) -> tuple[Ints, Floats]:
        """Pairs of vertices (k, 2) that are free, and their distance."""
        mesh, free = self.ground.mesh, ~self.ground.barred_vertices
        pairs, lengths = self.ground.links or surface_links(mesh)
        over, apart = _between_pieces(mesh, self.step_mm)
        pairs, lengths = np.vstack([pairs, over]), np.concatenate([lengths, apart])
        kept = free[pairs].all(axis=1)
        return pairs[kept], lengths[kept]

    @cached_property
    def _tree(self) -> tuple[Floats, Ints]:
        """What the cheapest way to each vertex costs, and the vertex before it, below 0 if none."""
        starts = np.flatnonzero(self.starts & ~self.ground.barred_vertices)
        links = _priced(self.ground.mesh, self.ground.costs, *self._links)
        total, before, _ = dijkstra(links, indices=starts, min_only=True, return_predecessors=True)
        return total, before


def _between_pieces(mesh: Mesh, step_mm: float) -> tuple[Ints, Floats]:
    """Return links from piece to piece where they come near, in mm; a scan is one, as a rule."""
    pieces, piece = piece_of_faces(mesh)
    if pieces == 1:
        return np.zeros((0, 2), dtype=np.int64), np.zeros(0)
    of_vertex = np.full(len(mesh.vertices), -1)
    of_vertex[mesh.faces] = piece[:, None]
    largest = int(np.bincount(piece).argmax())
    small = np.flatnonzero((of_vertex >= 0) & (of_vertex != largest))
    used = np.flatnonzero(of_vertex >= 0)
    near, number = KDTree(mesh.vertices[used]).query(
        mesh.vertices[small], k=min(LINKS_TRIED, len(used)), distance_upper_bound=2.0 * step_mm
    )
    pairs = np.column_stack([np.repeat(small, near.shape[1]), np.append(used, -1)[number.ravel()]])
    apart = near.ravel()
    kept = np.isfinite(apart)
    kept[kept] = of_vertex[pairs[kept, 0]] != of_vertex[pairs[kept, 1]]
    return pairs[kept], apart[kept]


def _priced(mesh: Mesh, costs: Floats, pairs: Ints, lengths: Floats) -> csr_matrix:
    """Return what it costs to go from vertex to vertex, there and back."""
    a, b = pairs.T
    rise = mesh.vertices[b, 2] - mesh.vertices[a, 2]
    price = np.maximum(lengths, 1e-9) * (costs[a] + costs[b]) / 2.0  # zero would be no link
    steep = DOWNWARD_COST * np.divide(
        np.abs(rise), lengths, out=np.zeros_like(rise), where=lengths > 0.0
    )
    there = price * (1.0 + np.where(rise < 0.0, steep, 0.0))
    back = price * (1.0 + np.where(rise > 0.0, steep, 0.0))
    count = len(mesh.vertices)
    ends = (np.concatenate([a, b]), np.concatenate([b, a]))
    return csr_matrix((np.concatenate([there, back]), ends), shape=(count, count))


def _near(ground: Ground, line: Floats) -> WeightedSurface:
    """Return the surface within reach of a line."""
    reach = TAUT_REACH_SHARE * float(np.linalg.norm(np.ptp(line, axis=0))) + 1.0
    faces = near_box(ground.mesh, line, reach)
    weights = ground.costs[ground.mesh.faces[faces]].mean(axis=1)
    return WeightedSurface(ground.mesh.corners[faces], weights, ground.barred[faces])
