"""The edges of a mesh as Blender keeps them, counted beside it: no window waits for that."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import locked

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class DrawnEdges:
    """Edges by the vertices at their ``ends`` (e, 2), and ``of_face`` (m, 3) those by corner."""

    ends: npt.NDArray[np.int32]
    of_face: npt.NDArray[np.int32]


def drawn_edges(mesh: Mesh) -> DrawnEdges | None:
    """Return the edges of a mesh, or None where a face names a vertex twice: Blender copes with it.

    Examples
    --------
    >>> from ..geometry.mesh import Mesh
    >>> found = drawn_edges(Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]]))
    >>> found.ends.tolist(), found.of_face.tolist()
    ([[0, 1], [0, 2], [1, 2]], [[0, 2, 1]])
    """
    edges = mesh.edges
    if (edges.ends[:, 0] == edges.ends[:, 1]).any():
        return None
    return DrawnEdges(locked(edges.ends, np.int32), locked(edges.of_face, np.int32))
