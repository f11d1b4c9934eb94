"""Patches over openings, laid out flat in the plane that fits their rim best."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..geometry.mesh import Mesh

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


def spanned(mesh: Mesh, rims: list[Ints]) -> tuple[Mesh, Ints]:
    """Return the mesh with a flat patch on each rim, new faces last, and the rim of each of these.

    A patch that would use an edge that two other faces share already, as on a narrow bridge between
    two holes, becomes a fan round a point of its own.

    Parameters
    ----------
    mesh : Mesh
    rims : list of ndarray, shape (k,)
        Walked so that a patch faces outward.
    """
    patches = [_patch(mesh.vertices[rim], rim) for rim in rims]
    if not patches:
        return mesh, np.zeros(0, dtype=np.int64)
    whole = Mesh(mesh.vertices, np.vstack([mesh.faces, *patches]))
    crowded = (whole.edges.uses[whole.edges.of_face] > 2).any(axis=1)[len(mesh.faces) :]
    ends = np.cumsum([len(patch) for patch in patches])[:-1]
    middles = [mesh.vertices]
    for number, bad in enumerate(np.split(crowded, ends)):
        if bad.any():
            rim, middle = rims[number], len(mesh.vertices) + len(middles) - 1
            middles.append(mesh.vertices[rim].mean(axis=0, keepdims=True))
            patches[number] = np.column_stack([rim, np.roll(rim, -1), np.full(len(rim), middle)])
    closed = Mesh(np.vstack(middles), np.vstack([mesh.faces, *patches]))
    return closed, np.repeat(np.arange(len(rims)), [len(patch) for patch in patches])


def area_vector(points: Floats) -> Floats:
    """Return the normal of a closed line (k, 3) in space times the area that it spans."""
    centred = points - points.mean(axis=0)
    vector: Floats = np.cross(centred, np.roll(centred, -1, axis=0)).sum(axis=0) / 2.0
    return vector


def _patch(points: Floats, rim: Ints) -> Ints:
    """Return triangles that span a rim, laid out in the plane that fits it best."""
    out = area_vector(points)
    if np.linalg.norm(out) <= 0.0:
        out = np.array([0.0, 0.0, 1.0])
    out = out / np.linalg.norm(out)
    across = np.cross(out, np.eye(3)[np.argmin(np.abs(out))])
    across /= np.linalg.norm(across)
    plan = (points - points.mean(axis=0)) @ np.column_stack([across, np.cross(out, across)])
    return rim[_triangles(plan)]


def _triangles(plan: Floats) -> Ints:
    """Return triangles over a closed line in the plane; they use each of its edges once."""
    found = manifold3d.triangulate([np.ascontiguousarray(plan)])
    return np.asarray(found, dtype=np.int64).reshape(-1, 3)
