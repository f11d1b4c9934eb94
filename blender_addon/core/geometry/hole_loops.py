"""The shortest loops through the holes of a solid: what a web of rubber in each is bounded by."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra

from .cycle_basis import cycle_basis
from .edges import edge_lengths_mm
from .linking import linked_oddly

if TYPE_CHECKING:
    from ..arrays import Ints
    from .cycle_basis import CycleBasis
    from .mesh import Mesh

_PUSH_SHARE = 0.02


def hole_loops(mesh: Mesh, roots: int) -> list[Ints]:
    """Return a shortest loop for each through-hole, as vertices in order.

    Of all loops on the surface those count that bound a sheet outside of the solid: which pass
    through no closed line inside of it, an odd number of times. They make half of all classes, and
    the shortest loops of different classes are taken, as many as there are holes.

    Parameters
    ----------
    mesh : Mesh
        One piece, closed, every edge of two faces, facing out.
    roots : int
        Places that loops are looked for from, spread over a net that every loop must cross.

    References
    ----------
    .. [1] Dey, Fan, Wang: An efficient computation of handle and tunnel loops via Reeb graphs,
       ACM TOG 32 (2013): the classes told apart by linking.
    .. [2] Erickson, Whittlesey: Greedy optimal homotopy and homology generators, SODA 2005: the
       shortest by a tree of shortest paths from each place.
    """
    basis = cycle_basis(mesh)
    if not basis.loops:
        return []
    through = _through(mesh, basis)
    starts = np.unique(np.concatenate(basis.loops))
    starts = starts[np.unique(np.linspace(0, len(starts) - 1, roots).astype(np.int64))]
    found = [one for start in starts.tolist() for one in _from(mesh, basis, through, start)]
    found.sort(key=lambda one: one[0])
    return _independent(found, len(basis.loops) // 2)


def _through(mesh: Mesh, basis: CycleBasis) -> Ints:
    """Return for each edge (e,) a bit for each loop: which it links, once pushed into the solid."""
    normals = np.zeros(mesh.vertices.shape)
    for corner in range(3):
        np.add.at(normals, mesh.faces[:, corner], mesh.vectors_mm2)
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    push = _PUSH_SHARE * float(np.median(edge_lengths_mm(mesh.vertices, mesh.edges)))
    out = [mesh.vertices[loop] + push * normals[loop] for loop in basis.loops]
    within = [mesh.vertices[loop] - push * normals[loop] for loop in basis.loops]
    linked = linked_oddly(out, within)
    masks = (linked * (1 << np.arange(len(basis.loops), dtype=np.int64))).sum(axis=1)
    through = np.zeros(len(basis.edge_class), dtype=np.int64)
    for bit, mask in enumerate(masks.tolist()):
        through ^= np.where(basis.edge_class >> bit & 1, mask, 0)
    return through


def _from(mesh: Mesh, basis: CycleBasis, through: Ints, root: int) -> list[tuple[float, int, Ints]]:
    """Return the shortest loop of each class from a root: length, class and vertices."""
    ends = mesh.edges.ends
    lengths = np.maximum(edge_lengths_mm(mesh.vertices, mesh.edges), 1e-9)
    count = len(mesh.vertices)
    graph = csr_matrix((lengths, ends.T), shape=(count, count))
    away, before = dijkstra(graph, directed=False, indices=root, return_predecessors=True)
    number = csr_matrix((np.arange(1, len(ends) + 1), ends.T), shape=(count, count))
    up = np.where(before < 0, np.arange(count), before)
    low, high = np.minimum(up, np.arange(count)), np.maximum(up, np.arange(count))
    edge = np.asarray(number[low, high]).ravel() - 1
    classes = _sum_to_root(np.where(edge >= 0, basis.edge_class[edge], 0), up)
    holes = _sum_to_root(np.where(edge >= 0, through[edge], 0), up)
    a, b = ends.T
    own = classes[a] ^ classes[b] ^ basis.edge_class
    fits = np.flatnonzero((own != 0) & ((holes[a] ^ holes[b] ^ through) == 0))
    total = away[a[fits]] + away[b[fits]] + lengths[fits]
    order = fits[np.argsort(total, kind="stable")]
    _, first = np.unique(own[order], return_index=True)
    best = order[np.sort(first)][: len(basis.loops)]
    return [
        (float(away[a[e]] + away[b[e]] + lengths[e]), int(own[e]), _loop(before, a[e], b[e]))
        for e in best.tolist()
    ]


def _sum_to_root(values: Ints, up: Ints) -> Ints:
    """Return the exclusive or of values (n,) from each node up to the root, in doubling strides."""
    while (up[up] != up).any():
        values = values ^ np.where(up != up[up], values[up], 0)
        up = up[up]
    return values


def _loop(before: Ints, one: int, other: int) -> Ints:
    ways = []
    for start in (one, other):
        way = [int(start)]
        while before[way[-1]] >= 0:
            way.append(int(before[way[-1]]))
        ways.append(way)
    first, second = ways
    while len(first) > 1 and len(second) > 1 and first[-2] == second[-2]:
        first, second = first[:-1], second[:-1]
    return np.array(first + second[-2::-1], dtype=np.int64)


def _independent(found: list[tuple[float, int, Ints]], most: int) -> list[Ints]:
    """Return the first loops, by length, none of which is a sum of others before it."""
    kept: list[Ints] = []
    pivots: dict[int, int] = {}
    for _, one, loop in found:
        rest = one
        while rest and rest.bit_length() in pivots:
            rest ^= pivots[rest.bit_length()]
        if rest:
            pivots[rest.bit_length()] = rest
            kept.append(loop)
        if len(kept) == most:
            break
    return kept
