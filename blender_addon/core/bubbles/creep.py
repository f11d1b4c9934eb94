"""Air creeps along the surface: ways out that are narrower than a column, which no column sees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import CREEP_ROUNDS
from ..geometry.edges import edges_of
from .spaces import VENT, Passages

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from .spaces import Spaces


@dataclass(frozen=True, eq=False)
class Shore:
    """The ``faces`` (m,) that air may creep over, by number, and the edges between them.

    ``level_mm`` (m,) is how high air on each keeps on its way out over faces near by, -inf where
    none is known; ``links`` (k, 2) are pairs of them by rank, ``over_mm`` (k,) is the higher end of
    the edge between and ``at_mm`` (k, 2) where that lies in plan.
    """

    faces: Ints
    level_mm: Floats
    links: Ints
    over_mm: Floats
    at_mm: Floats


def crept(mesh: Mesh, spaces: Spaces, passages: Passages, held: Bools, shore: Shore) -> Passages:
    """Return the passages between spaces that hold air, and those along the surface besides.

    Air on a face reaches the next one over the higher end of the edge between them: a way along
    the surface is a way for air, however narrow the gap. All spaces that hold nothing count as the
    vent, those that do are numbered from 1 on, and faces after them.

    Parameters
    ----------
    mesh : Mesh
    spaces : Spaces
    passages : Passages
        Between the spaces, as the columns see them.
    held : ndarray, shape (n,)
        Spaces that hold air as far as the columns see.
    shore : Shore
    """
    own = np.flatnonzero(held)
    ends = np.where(held, np.cumsum(held), VENT)[passages.ends]
    apart = ends[:, 0] != ends[:, 1]
    rank = np.full(len(mesh.faces), -1)
    rank[shore.faces] = np.arange(len(shore.faces))
    roof = rank[spaces.roof_face[own]]
    met, out = np.flatnonzero(roof >= 0), np.flatnonzero(np.isfinite(shore.level_mm))
    at_mm = mesh.vertices[mesh.faces[shore.faces, 0], :2]
    first = 1 + len(own)
    return Passages(
        np.vstack([
            ends[apart],
            np.column_stack([1 + met, first + roof[met]]),
            np.column_stack([np.full(len(out), VENT), first + out]),
            first + shore.links,
        ]),
        np.concatenate([
            passages.level_mm[apart], spaces.ceiling_mm[own[met]], shore.level_mm[out],
            shore.over_mm,
        ]),
        np.vstack([passages.at_mm[apart], at_mm[roof[met]], at_mm[out], shore.at_mm]),
    )  # fmt: skip


def shore_of(
    mesh: Mesh, spaces: Spaces, held: Bools, open_face: Bools, *, touching: bool = False
) -> Shore:
    """Return the faces of some that are open to air, and how air gets on from each to the next.

    Parameters
    ----------
    mesh : Mesh
    spaces : Spaces
    held : ndarray, shape (n,)
        Spaces that hold air as far as the columns see.
    open_face : ndarray, shape (m,)
        The faces to look at.
    touching : bool, optional
        Whether air gets through where surfaces touch in a point as well.
    """
    faces = np.flatnonzero(open_face)
    higher, links = _over_corners(mesh, faces) if touching else _over_edges(mesh, faces)
    over_mm = mesh.vertices[higher, 2]
    level_mm = _level_at_free_air(len(mesh.faces), spaces, held)[faces]
    for _ in range(CREEP_ROUNDS):
        _spread(level_mm, links, over_mm)
    shy = level_mm < mesh.vertices[mesh.faces[faces], 2].max(axis=1)
    _spread(level_mm, links, over_mm)  # to those that are shy from those that are no longer
    wanted = shy[links[:, 0]] & shy[links[:, 1]]
    at_mm = mesh.vertices[higher[wanted], :2]
    return Shore(faces, level_mm, links[wanted], over_mm[wanted], at_mm)


def _spread(level_mm: Floats, links: Ints, over_mm: Floats) -> None:
    """Let air get on from each face to those that it hangs together with."""
    nearer_mm = np.maximum(level_mm[links[:, 0]], level_mm[links[:, 1]])
    reached = np.minimum(over_mm, nearer_mm)
    np.maximum.at(level_mm, links[:, 0], reached)
    np.maximum.at(level_mm, links[:, 1], reached)


def _over_edges(mesh: Mesh, faces: Ints) -> tuple[Ints, Ints]:
    """Return the higher vertex of each edge between two faces, and the ranks (k, 2) of both."""
    edges = edges_of(mesh.faces[faces], len(mesh.vertices))
    edge, links = edges.manifold
    first, second = edges.ends[edge].T
    z = mesh.vertices[:, 2]
    return np.where(z[first] >= z[second], first, second), links


def _over_corners(mesh: Mesh, faces: Ints) -> tuple[Ints, Ints]:
    """Return vertices, and ranks (k, 2) of faces they are corners of: each one's hang together."""
    corner = mesh.faces[faces].ravel()
    order = np.argsort(corner, kind="stable")
    same = np.flatnonzero(corner[order[1:]] == corner[order[:-1]])
    return corner[order[same]], np.column_stack([order[same], order[same + 1]]) // 3


def _level_at_free_air(count: int, spaces: Spaces, held: Bools) -> Floats:
    """Return how high air at each face surely is free: where a column of free air meets it."""
    level_mm = np.full(count, -np.inf)
    free = ~held
    free[VENT] = False
    floored = free & (spaces.floor_face >= 0)
    tops = spaces.solids.topmost
    np.maximum.at(level_mm, spaces.roof_face[free], spaces.ceiling_mm[free])
    np.maximum.at(level_mm, spaces.floor_face[floored], spaces.floor_mm[floored])
    np.maximum.at(level_mm, spaces.solids.over_face[tops], spaces.solids.high_mm[tops])
    return level_mm
