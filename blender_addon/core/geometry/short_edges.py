"""Triangles cut until no edge is long, so that a path over their corners can turn anywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from .edges import edge_lengths_mm
from .mesh import Mesh

if TYPE_CHECKING:
    from ..arrays import Ints


def cut_short(mesh: Mesh, longest_mm: float) -> tuple[Mesh, Ints]:
    """Return the same surface with edges of about a length at most, and the given face of each.

    A mesh that has no longer edges, or that is no closed manifold, is returned as it is.

    Parameters
    ----------
    mesh : Mesh
    longest_mm : float
        What is cut comes out up to twice as long here and there.

    Examples
    --------
    >>> corners = [[0, 0, 0], [4, 0, 0], [0, 4, 0], [0, 0, 4]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> fine, given = cut_short(wedge, 3.0)
    >>> len(fine.faces) > 8, sorted(set(given.tolist()))
    (True, [0, 1, 2, 3])
    """
    whole = np.arange(len(mesh.faces))
    if not (edge_lengths_mm(mesh.vertices, mesh.edges) > longest_mm).any():
        return mesh, whole
    solid = manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=np.array(mesh.vertices),
            tri_verts=mesh.faces.astype(np.uint64),
            face_id=whole.astype(np.uint64),
        )
    )
    if solid.status() != manifold3d.Error.NoError:
        return mesh, whole
    out = solid.refine_to_length(longest_mm).to_mesh64()
    fine = Mesh(np.array(out.vert_properties)[:, :3], np.array(out.tri_verts))
    return fine, np.array(out.face_id, dtype=np.int64)
