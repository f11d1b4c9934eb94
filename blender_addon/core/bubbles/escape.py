"""The escape level: how low air must dive, at best, on its way to the vent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import breadth_first_order, connected_components, minimum_spanning_tree

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .spaces import Passages


NO_GATE = -1


@dataclass(frozen=True, eq=False)
class Escapes:
    """What each space's air must do to leave.

    ``level_mm`` (n,) is how low it must dive: -inf where no way leads out, +inf for the vent;
    ``gate`` (n,) the passage that this hangs on, `NO_GATE` for the vent; spaces that are shut off
    together share a number below that.
    """

    level_mm: Floats
    gate: Ints


def escapes(count: int, passages: Passages) -> Escapes:
    """Return the best over all ways to space 0 of the lowest passage on the way.

    The widest paths from one node all lie in one maximum spanning tree.

    Parameters
    ----------
    count : int
        Number of spaces.
    passages : Passages

    References
    ----------
    .. [1] Hu: The maximum capacity route problem, Operations Research 9, 1961.
    .. [2] Barnes, Lehman, Mulla: Priority-flood, Computers & Geosciences 62, 2014.

    Examples
    --------
    >>> from blender_addon.core.bubbles.spaces import Passages
    >>> ends = np.array([[0, 1], [1, 2], [0, 2]])
    >>> escapes(3, Passages(ends, np.array([2.0, 6.0, 5.0]), np.zeros((3, 2)))).level_mm.tolist()
    [inf, 5.0, 5.0]
    """
    best, key = _best_of_each_pair(count, passages)
    ends, level = passages.ends[best], passages.level_mm[best]
    if not len(level):
        return Escapes(np.append(np.inf, np.full(count - 1, -np.inf)), _shut_off(count, passages))
    weight = level.max() - level + 1.0  # positive: the library reads a zero as no edge
    graph = csr_matrix((weight, (ends[:, 0], ends[:, 1])), shape=(count, count))
    tree = minimum_spanning_tree(graph)
    order, parent = breadth_first_order(tree, 0, directed=False)
    nodes = order[1:].astype(np.int64)
    up = np.zeros(count, dtype=np.int64)
    up[nodes] = parent[nodes]
    wanted = np.minimum(nodes, up[nodes]) * count + np.maximum(nodes, up[nodes])
    passage = best[np.searchsorted(key, wanted)]
    level_mm, gate = np.full(count, -np.inf), _shut_off(count, passages)
    level_mm[0] = np.inf
    level_mm[nodes], gate[nodes] = passages.level_mm[passage], passage
    return _lowest_on_the_way(level_mm, gate, up)


def _shut_off(count: int, passages: Passages) -> Ints:
    """Return `NO_GATE` for what hangs together with the vent, and a number for each other lump."""
    ends = passages.ends
    joined = csr_matrix((np.ones(len(ends)), (ends[:, 0], ends[:, 1])), shape=(count, count))
    _, lump = connected_components(joined, directed=False)
    gate: Ints = np.where(lump == lump[0], NO_GATE, NO_GATE - 1 - lump.astype(np.int64))
    return gate


def _best_of_each_pair(count: int, passages: Passages) -> tuple[Ints, Ints]:
    """Return the highest passage of each pair of spaces, and the pairs' keys, sorted."""
    key = passages.ends.min(axis=1) * count + passages.ends.max(axis=1)
    order = np.lexsort((-passages.level_mm, key))
    keys, first = np.unique(key[order], return_index=True)
    return order[first], keys


def _lowest_on_the_way(level_mm: Floats, gate: Ints, up: Ints) -> Escapes:
    """Take the lowest level between each node and the root, in doubling strides."""
    while np.any(up != 0):
        lower = level_mm[up] <= level_mm  # of equals, the one nearer the vent
        lower &= up != 0
        level_mm = np.where(lower, level_mm[up], level_mm)
        gate = np.where(lower, gate[up], gate)
        up = up[up]
    return Escapes(level_mm, gate)
