"""Which loops on a closed surface differ: a basis of them, and the class of every edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.csgraph import breadth_first_order, minimum_spanning_tree

from .edges import edge_lengths_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Ints
    from .mesh import Mesh

MOST_LOOPS = 62
"""Classes are bits of a whole number: 31 through-holes, with two loops each."""


@dataclass(frozen=True, eq=False)
class CycleBasis:
    """``loops`` are closed lines of vertices, two for each through-hole.

    ``edge_class`` (e,) has a bit for each loop: over the edges of any closed line, the exclusive or
    tells which loops it is the sum of, counted modulo 2.
    """

    loops: tuple[Ints, ...]
    edge_class: Ints


def cycle_basis(mesh: Mesh) -> CycleBasis:
    """Return a basis of the loops on one closed surface, from a tree and a cotree.

    A spanning tree of the vertices and one of the faces that crosses none of its edges leave two
    edges over for each through-hole. Each closes a loop over the first tree, and one over the
    second; the edges that the latter crosses get its bit.

    Parameters
    ----------
    mesh : Mesh
        One piece, closed, every edge of two faces.

    References
    ----------
    .. [1] D. Eppstein: Dynamic generators of topologically embedded graphs, SODA 2003.
    """
    ends = mesh.edges.ends
    lengths = np.maximum(edge_lengths_mm(mesh.vertices, mesh.edges), 1e-9)
    count = len(mesh.vertices)
    _, before = breadth_first_order(
        minimum_spanning_tree(csr_matrix((lengths, ends.T), shape=(count, count))),
        int(ends[0, 0]), directed=False,
    )  # fmt: skip
    in_tree = (before[ends[:, 0]] == ends[:, 1]) | (before[ends[:, 1]] == ends[:, 0])
    sides = _sides(mesh)
    left_over, above = _cotree(sides, in_tree, len(mesh.faces))
    classes = np.zeros(len(ends), dtype=np.int64)
    loops = []
    for bit, edge in enumerate(left_over[:MOST_LOOPS].tolist()):
        loops.append(_closed(_to_root(before, ends[edge, 0]), _to_root(before, ends[edge, 1])))
        crossed = np.append(_up(above, sides[edge, 0]), _up(above, sides[edge, 1]))
        names, times = np.unique(crossed, return_counts=True)
        classes[names[times == 1]] ^= 1 << bit
        classes[edge] ^= 1 << bit
    return CycleBasis(tuple(loops), classes)


def _sides(mesh: Mesh) -> Ints:
    """Return the two faces of each edge (e, 2)."""
    order = np.argsort(mesh.edges.of_face.ravel(), kind="stable")
    sides: Ints = order.reshape(-1, 2) // 3
    return sides


def _cotree(sides: Ints, in_tree: Bools, faces: int) -> tuple[Ints, tuple[Ints, Ints]]:
    """Return the edges in neither tree, and of each face the one above it and the edge between."""
    free = np.flatnonzero(~in_tree)
    a, b = np.sort(sides[free], axis=1).T
    key = a * faces + b
    _, first = np.unique(key, return_index=True)  # two faces may share two edges
    linked = free[first]
    weights = np.arange(1, len(linked) + 1, dtype=np.float64)
    graph = coo_matrix((weights, (a[first], b[first])), shape=(faces, faces))
    tree = minimum_spanning_tree(graph.tocsr()).tocoo()
    used = linked[tree.data.astype(np.int64) - 1]
    both = coo_matrix(
        (np.ones(len(used)), (sides[used, 0], sides[used, 1])), shape=(faces, faces)
    ).tocsr()
    _, parent = breadth_first_order(both, int(sides[used[0], 0]), directed=False)
    child_first = parent[sides[used, 0]] == sides[used, 1]
    child = np.where(child_first, sides[used, 0], sides[used, 1])
    between = np.full(faces, -1, dtype=np.int64)
    between[child] = used
    return np.setdiff1d(free, used), (parent.astype(np.int64), between)


def _up(above: tuple[Ints, Ints], face: int) -> Ints:
    """Return the edges crossed from a face up to the root of the faces' tree."""
    parent, between = above
    crossed = []
    while parent[face] >= 0:
        crossed.append(int(between[face]))
        face = int(parent[face])
    return np.array(crossed, dtype=np.int64)


def _to_root(before: Ints, vertex: int) -> list[int]:
    way = [int(vertex)]
    while before[way[-1]] >= 0:
        way.append(int(before[way[-1]]))
    return way


def _closed(one: list[int], other: list[int]) -> Ints:
    """Return the loop of two ways to the same root, without what they share."""
    while len(one) > 1 and len(other) > 1 and one[-2] == other[-2]:
        one, other = one[:-1], other[:-1]
    return np.array(one + other[-2::-1], dtype=np.int64)
