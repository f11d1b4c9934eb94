"""The edges of a mesh and how its triangles use them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints


@dataclass(frozen=True, eq=False)
class Edges:
    """Edge e joins ``ends[e]``, the lower vertex number first.

    ``of_face`` (m, 3) is the edge from each corner to the next; ``forward`` (m, 3) whether the face
    walks it from the lower number to the higher. ``uses`` (e,) counts faces, ``net`` (e,) those
    that walk forward less those that walk back.
    """

    ends: Ints
    of_face: Ints
    forward: Bools
    uses: Ints
    net: Ints

    @cached_property
    def manifold(self) -> tuple[Ints, Ints]:
        """The edges (k,) that just two faces share, one each way, and these faces (k, 2)."""
        order = np.argsort(self.of_face.ravel(), kind="stable")
        edge = np.flatnonzero((self.uses == 2) & (self.net == 0))
        first = (np.cumsum(self.uses) - self.uses)[edge]
        return edge, np.column_stack([order[first], order[first + 1]]) // 3


def edges_of(faces: Ints, vertex_count: int) -> Edges:
    """Return the edges of some triangles (m, 3).

    Examples
    --------
    >>> found = edges_of(np.array([[0, 1, 2], [2, 1, 3]]), 4)
    >>> found.uses.tolist(), found.net.tolist()
    ([1, 1, 2, 1, 1], [1, -1, 0, 1, -1])
    """
    tail, head = faces, faces[:, [1, 2, 0]]
    low, high = np.minimum(tail, head).ravel(), np.maximum(tail, head).ravel()
    key = low * vertex_count + high
    order = np.argsort(key)
    ranked = key[order]
    new = np.append(True, ranked[1:] != ranked[:-1])[: len(ranked)]
    number = np.zeros(len(key), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    forward = (tail < head).ravel()
    count = int(np.count_nonzero(new))
    uses = np.bincount(number, minlength=count)
    ahead = np.bincount(number[forward], minlength=count)
    first = order[new]
    return Edges(
        np.column_stack([low[first], high[first]]),
        number.reshape(-1, 3),
        forward.reshape(-1, 3),
        uses,
        2 * ahead - uses,
    )


def edge_lengths_mm(vertices: Floats, edges: Edges) -> Floats:
    """Return the length of each edge, shape (e,)."""
    steps = vertices[edges.ends[:, 1]] - vertices[edges.ends[:, 0]]
    lengths: Floats = np.linalg.norm(steps, axis=1)
    return lengths
