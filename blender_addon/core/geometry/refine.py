"""Coarse triangles made as fine as what lies round them: long edges split, flat edges flipped."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.geometry import FLIP_ROUNDS, LONG_EDGE_SHARE, SPLIT_ROUNDS
from .edges import edge_lengths_mm, edges_of

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints


def refined(
    vertices: Floats, faces: Ints, size_mm: Floats, taken: Ints
) -> tuple[Floats, Ints, Ints]:
    """Return a patch with edges about as long as wanted; its rim keeps its edges.

    Every edge inside that is a third too long is split in its middle, and after each round edges
    are flipped that face two angles of more than 180 degrees together.

    Parameters
    ----------
    vertices : ndarray, shape (n, 3)
        In mm.
    faces : ndarray, shape (m, 3)
        Of one patch or several, that share no edge.
    size_mm : ndarray, shape (n,)
        How long edges are to be at each vertex; between two, their mean.
    taken : ndarray, shape (k, 2)
        Pairs of vertices that no edge of the patch may join, for others join them.

    Returns
    -------
    vertices, faces : ndarray
        New ones last.
    parent : ndarray
        The given face that each lies in; flips carry it on within a patch.

    References
    ----------
    .. [1] Liepa: Filling holes in meshes, Symposium on Geometry Processing 2003.

    Examples
    --------
    >>> square = np.array([[0.0, 0, 0], [2, 0, 0], [2, 2, 0], [0, 2, 0]])
    >>> faces, none = np.array([[0, 1, 2], [0, 2, 3]]), np.zeros((0, 2), dtype=np.int64)
    >>> fine, made, _ = refined(square, faces, np.full(4, 2.0), none)
    >>> fine[4:].tolist(), len(made)
    ([[1.0, 1.0, 0.0]], 4)
    """
    faces, parent = faces.copy(), np.arange(len(faces))
    for _ in range(SPLIT_ROUNDS):
        _flip(vertices, faces, taken)
        ends, split = _longest(vertices, faces, size_mm)
        if not len(ends):
            break
        faces = _split(faces, split, len(vertices) + np.arange(len(ends)))
        parent = np.concatenate([parent, *(parent[corner // 3] for corner in split)])
        vertices = np.vstack([vertices, vertices[ends].mean(axis=1)])
        size_mm = np.append(size_mm, size_mm[ends].mean(axis=1))
    return vertices, faces, parent


def _halves(faces: Ints, count: int) -> tuple[Ints, Ints, Ints]:
    """Return the edges that two faces share, as numbers, and for each its corner in both faces."""
    edges = edges_of(faces, count)
    order = np.argsort(edges.of_face.ravel(), kind="stable")
    first = np.cumsum(edges.uses) - edges.uses
    inner = np.flatnonzero((edges.uses == 2) & (edges.net == 0))
    return inner, order[first[inner]], order[first[inner] + 1]


def _apart(rank: Floats, one: Ints, other: Ints, count: int) -> Bools:
    """Return which edges come before every other of both their faces, so that none share one."""
    order = np.lexsort((np.arange(len(rank)), rank))
    place = np.zeros(len(rank), dtype=np.int64)
    place[order] = np.arange(len(rank))
    best = np.full(count, len(rank), dtype=np.int64)
    np.minimum.at(best, one // 3, place)
    np.minimum.at(best, other // 3, place)
    found: Bools = (best[one // 3] == place) & (best[other // 3] == place)
    return found


def _longest(vertices: Floats, faces: Ints, size_mm: Floats) -> tuple[Ints, tuple[Ints, Ints]]:
    """Return the ends of edges to split, no two of one face, and their corners in both faces."""
    inner, one, other = _halves(faces, len(vertices))
    edges = edges_of(faces, len(vertices))
    ends, length = edges.ends[inner], edge_lengths_mm(vertices, edges)[inner]
    long = np.flatnonzero(length > LONG_EDGE_SHARE * size_mm[ends].mean(axis=1))
    long = long[_apart(-length[long], one[long], other[long], len(faces))]
    return ends[long], (one[long], other[long])


def _split(faces: Ints, corners: tuple[Ints, Ints], middle: Ints) -> Ints:
    """Return the faces with both of each edge cut in two at a new vertex; new ones last."""
    halves = []
    for corner in corners:
        face, k = np.divmod(corner, 3)
        ahead, across = faces[face, (k + 1) % 3], faces[face, (k + 2) % 3]
        halves.append(np.column_stack([middle, ahead, across]))
        faces[face, (k + 1) % 3] = middle
    return np.vstack([faces, *halves])


def _flip(vertices: Floats, faces: Ints, taken: Ints) -> None:
    """Flip edges in place, as many as can be at once, until none is left or it has taken long."""
    count = len(vertices)
    barred = taken.min(axis=1) * count + taken.max(axis=1)
    for _ in range(FLIP_ROUNDS):
        _, one, other = _halves(faces, count)
        a, b = faces.ravel()[one], faces[one // 3, (one % 3 + 1) % 3]
        c, d = faces[one // 3, (one % 3 + 2) % 3], faces[other // 3, (other % 3 + 2) % 3]
        fit = _cotangents(vertices, a, b, c) + _cotangents(vertices, a, b, d)
        key = np.minimum(c, d) * count + np.maximum(c, d)
        edges = edges_of(faces, count).ends
        there = np.append(barred, edges[:, 0] * count + edges[:, 1])
        wanted = (fit < -1e-9) & (c != d) & ~np.isin(key, there) & _unfolded(vertices, a, b, c, d)
        _, first = np.unique(np.where(wanted, key, -1 - np.arange(len(key))), return_index=True)
        wanted &= np.isin(np.arange(len(key)), first)
        chosen = np.flatnonzero(wanted)
        chosen = chosen[_apart(fit[chosen], one[chosen], other[chosen], len(faces))]
        if not len(chosen):
            return
        faces[one[chosen] // 3] = np.column_stack([a, d, c])[chosen]
        faces[other[chosen] // 3] = np.column_stack([d, b, c])[chosen]


def _cotangents(vertices: Floats, a: Ints, b: Ints, at: Ints) -> Floats:
    """Return the cotangent of the angle under which each edge a, b is seen from a vertex."""
    u, v = vertices[a] - vertices[at], vertices[b] - vertices[at]
    across = np.linalg.norm(np.cross(u, v), axis=1)
    found: Floats = np.einsum("ij,ij->i", u, v) / np.maximum(across, 1e-30)
    return found


def _unfolded(vertices: Floats, a: Ints, b: Ints, c: Ints, d: Ints) -> Bools:
    """Return whether both faces after a flip look the way that both before it do together."""
    pa, pb, pc, pd = (vertices[k] for k in (a, b, c, d))
    out = np.cross(pb - pa, pc - pa) + np.cross(pd - pa, pb - pa)
    new = (np.cross(pd - pa, pc - pa), np.cross(pb - pd, pc - pd))
    fits = [np.einsum("ij,ij->i", one, out) > 0.0 for one in new]
    both: Bools = fits[0] & fits[1]
    return both
