"""Directed edges joined end to end into loops."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Ints


def simple_loops(edges: Ints) -> list[Ints]:
    """Return the loops that directed edges (k, 2) make; none passes a vertex twice.

    The edges must leave every vertex as often as they reach it, as the rim of a surface does.
    Rims are short beside the mesh, so this walks them one by one.

    Examples
    --------
    >>> [loop.tolist() for loop in simple_loops(np.array([[3, 5], [5, 4], [4, 3]]))]
    [[3, 5, 4]]
    """
    ahead: dict[int, list[int]] = {}
    for tail, head in edges.tolist():
        ahead.setdefault(tail, []).append(head)
    loops = []
    for start in list(ahead):
        while ahead[start]:
            loops += _walk(start, ahead)
    return loops


def _walk(start: int, ahead: dict[int, list[int]]) -> list[Ints]:
    loops, path, place = [], [start], {start: 0}
    while ahead[path[-1]]:
        head = ahead[path[-1]].pop()
        if head in place:  # a loop closes here; what came before goes on
            loops.append(np.array(path[place[head] :], dtype=np.int64))
            for vertex in path[place[head] + 1 :]:
                del place[vertex]
            path = path[: place[head] + 1]
        else:
            place[head] = len(path)
            path.append(head)
    return loops
