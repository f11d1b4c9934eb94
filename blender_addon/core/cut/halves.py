"""Two halves: which way they come apart, and the closed line on the piece that they part along."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from ..constants.cut import STRAY_ROUNDS, STRAY_SHARE
from ..geometry.zero_loops import zero_loops

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from .parting import Parting


@dataclass(frozen=True, eq=False)
class PartingLine:
    """The closed lines ``loops``, each (k, 3), on the piece, the longest first.

    ``faces`` are those that they cross, ``sides`` counts the parts that they part the surface in.
    """

    loops: tuple[Floats, ...]
    faces: Ints
    sides: int

    @property
    def length_mm(self) -> float:
        """Of all loops."""
        return sum(loop_length_mm(one) for one in self.loops)


def loop_length_mm(loop: Floats) -> float:
    """Return the length of a closed line (k, 3) whose last point is not its first again.

    Examples
    --------
    >>> loop_length_mm(np.array([[0.0, 0, 0], [3, 0, 0], [3, 4, 0]]))
    12.0
    """
    return float(np.linalg.norm(loop - np.roll(loop, -1, axis=0), axis=1).sum())


def parting_line(mesh: Mesh, parting: Parting) -> PartingLine:
    """Return the line in which a parting surface meets a piece.

    Small spots that it cuts off go to what lies round them. So the line parts a piece that bulges
    to either side in exactly two.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    parting : Parting
    """
    off = parting.side_of(mesh.vertices)
    off = np.where(off == 0.0, np.finfo(float).tiny, off)
    share = _vertex_areas(mesh)
    share /= share.sum()
    for _ in range(STRAY_ROUNDS):
        label, areas = _parts(mesh, off > 0.0, share)
        lost = areas[label] < STRAY_SHARE
        if not lost.any():
            break
        off = np.where(lost, -off, off)
    loops, faces = zero_loops(mesh, off)
    loops.sort(key=loop_length_mm, reverse=True)
    _, areas = _parts(mesh, off > 0.0, share)
    return PartingLine(tuple(loops), faces, int(np.count_nonzero(areas > 0.0)))


def _parts(mesh: Mesh, before: Bools, share: Floats) -> tuple[Ints, Floats]:
    """Return the part of its side that each vertex belongs to, and each part's share."""
    a, b = mesh.edges.ends.T
    same = before[a] == before[b]
    ones = np.ones(int(np.count_nonzero(same)), dtype=np.int8)
    links = coo_matrix((ones, (a[same], b[same])), shape=(len(before), len(before)))
    parts, label = connected_components(links, directed=False)
    return label.astype(np.int64), np.bincount(label, share, parts)


def _vertex_areas(mesh: Mesh) -> Floats:
    area = np.linalg.norm(mesh.vectors_mm2, axis=1) / 3.0
    areas: Floats = np.bincount(mesh.faces.ravel(), np.repeat(area, 3), len(mesh.vertices))
    return areas
