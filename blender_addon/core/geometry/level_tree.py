"""How the parts of a surface above or below level planes hang together."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import KDTree

from .connect import piece_of_faces

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .mesh import Mesh


class LevelTree:
    """Joins the surface plane by plane, from above or from below.

    Vertices between the same two planes that hang together are one node from the start, so that
    only as many are left to join as there are ups and downs. Of several pieces, each is taken to
    hang by its lowest point on the largest.

    Parameters
    ----------
    mesh : Mesh
    heights_mm : ndarray, shape (n,)
        Of the planes, ascending; a vertex in a plane counts as above it.

    Attributes
    ----------
    node : ndarray, shape (number of vertices,)
        The node of each vertex.
    """

    def __init__(self, mesh: Mesh, heights_mm: Floats) -> None:
        slab = np.searchsorted(heights_mm, mesh.vertices[:, 2], side="right")
        a, b = mesh.edges.ends.T
        same = slab[a] == slab[b]
        ones = np.ones(int(np.count_nonzero(same)), dtype=np.int8)
        links = coo_matrix((ones, (a[same], b[same])), (len(slab), len(slab)))
        self._nodes, self.node = connected_components(links, directed=False)
        held = self._bridges(mesh)
        a, b = np.concatenate([a[~same], held[0]]), np.concatenate([b[~same], held[1]])
        ends = np.column_stack([self.node[a], self.node[b], *np.sort([slab[a], slab[b]], axis=0)])
        # two nodes say their slabs: one number for a pair is quicker to sort than four
        _, first = np.unique(ends[:, 0] * np.int64(self._nodes) + ends[:, 1], return_index=True)
        self._across = ends[first]
        self._up: list[int] = []

    def _bridges(self, mesh: Mesh) -> tuple[Ints, Ints]:
        """Join each piece but the largest at its lowest point to the nearest place of the rest."""
        pieces, piece = piece_of_faces(mesh)
        none = np.zeros(0, dtype=np.int64)
        if pieces == 1:
            return none, none
        of_vertex = np.full(len(mesh.vertices), -1)
        of_vertex[mesh.faces] = piece[:, None]
        largest = int(np.bincount(piece).argmax())
        order = np.lexsort((mesh.vertices[:, 2], of_vertex))
        names, first = np.unique(of_vertex[order], return_index=True)
        lowest = order[first[(names >= 0) & (names != largest)]]
        near = np.zeros(len(lowest), dtype=np.int64)
        main = np.flatnonzero(of_vertex == largest)
        near[:] = main[KDTree(mesh.vertices[main]).query(mesh.vertices[lowest])[1]]
        return lowest, near

    def downward(self) -> tuple[LevelTree, Ints, Ints]:
        """Take all apart; return this, the pairs to join from the top and the slab each ends in."""
        self._up = list(range(self._nodes))
        order = np.argsort(-self._across[:, 2], kind="stable")
        return self, self._across[order, :2], self._across[order, 2]

    def upward(self) -> tuple[LevelTree, Ints, Ints]:
        """Take all apart; return this, the pairs to join from below and the slab each ends in."""
        self._up = list(range(self._nodes))
        order = np.argsort(self._across[:, 3], kind="stable")
        return self, self._across[order, :2], self._across[order, 3]

    def join(self, pairs: Ints) -> None:
        """Join pairs of nodes (k, 2)."""
        for one, other in pairs.tolist():
            first, second = self.find(one), self.find(other)
            if first != second:
                self._up[max(first, second)] = min(first, second)

    def find(self, node: int) -> int:
        """Return the node that stands for all that a node was joined with."""
        top = node
        while self._up[top] != top:
            top = self._up[top]
        while self._up[node] != top:
            self._up[node], node = top, self._up[node]
        return top

    def parts(self, nodes: Ints) -> Ints:
        """Return for each of some nodes (k,) the one that stands for its part."""
        different, which = np.unique(nodes, return_inverse=True)
        found = np.array([self.find(one) for one in different.tolist()], dtype=np.int64)
        part: Ints = found[which]
        return part
