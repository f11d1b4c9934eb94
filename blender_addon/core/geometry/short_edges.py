"""Triangles cut until no edge is long, so that a path over their corners can turn anywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from .edges import edge_lengths_mm
from .mesh import Mesh

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


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


def short_edged(mesh: Mesh, cells: float) -> tuple[Mesh, Ints]:
    """Return the mesh with edges short enough for a path, and the given face of each face.

    A scan has short edges, but for a few where it was closed: it is taken as it is.

    Parameters
    ----------
    mesh : Mesh
    cells : float
        Edges that fit into its largest size.
    """
    low, high = mesh.bounds
    step = float((high - low).max()) / cells
    long = edge_lengths_mm(mesh.vertices, mesh.edges)[mesh.edges.of_face].max(axis=1) > 2.0 * step
    area = np.linalg.norm(mesh.vectors_mm2, axis=1)
    upright = np.abs(mesh.vectors_mm2[:, 2]) < 0.99 * area  # not the base that was closed
    if area[long & upright].sum() < 0.01 * area.sum():
        return mesh, np.arange(len(mesh.faces))
    return cut_short(mesh, step)


def in_small_triangles(corners: Floats, longest_mm: float) -> Floats:
    """Return triangles (k, 3, 3) that cover the given ones (m, 3, 3), none with a longer edge.

    Neighbours need not share corners: to lay points on, not to walk over.

    Examples
    --------
    >>> len(in_small_triangles(np.array([[[0.0, 0, 0], [4, 0, 0], [0, 2, 0]]]), 3.0))
    3
    """
    done = []
    while len(corners):
        sides = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
        long = sides.max(axis=1) > longest_mm
        done.append(corners[~long])
        rows, first = np.flatnonzero(long), sides[long].argmax(axis=1)
        a, b, c = (corners[rows, (first + k) % 3] for k in range(3))
        middle = (a + b) / 2.0
        halves = [np.stack([a, middle, c], axis=1), np.stack([middle, b, c], axis=1)]
        corners = np.concatenate(halves)
    return np.concatenate(done) if done else corners
