"""Patches over openings, as fine and as smooth as the surface round them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.scan import FAR_FROM_FLAT_SHARE, LONG_IN_PATCH_SHARE, MOST_ACROSS_PATCH
from ..geometry.connect import chosen_faces
from ..geometry.crossing import crossing_faces
from ..geometry.edges import edge_lengths_mm
from ..geometry.fair import faired
from ..geometry.mesh import Mesh
from ..geometry.refine import refined
from .patches import spanned

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints


def smoothly_spanned(mesh: Mesh, rims: list[Ints]) -> Mesh:
    """Return the mesh with a smooth patch on each rim, as fine as its rim, new faces last.

    Long flat triangles would be flagged or not as a whole, and be seen as streaks on a map. A patch
    that would cross the surface beside it, or bulge too far, stays flat.

    Parameters
    ----------
    mesh : Mesh
    rims : list of ndarray, shape (k,)
        Walked so that a patch faces outward.

    References
    ----------
    .. [1] Liepa: Filling holes in meshes, Symposium on Geometry Processing 2003.
    """
    flat, owner = spanned(mesh, rims)
    size_mm = _sizes_mm(flat, rims)
    patches = Mesh(flat.vertices, flat.faces[len(mesh.faces) :])
    coarse = np.isin(owner, owner[_long(patches, size_mm)])
    if not coarse.any():
        return flat
    others = np.vstack([mesh.faces, patches.faces[~coarse]])
    taken = Mesh(flat.vertices, others).edges.ends
    taken = taken[np.isin(taken, np.concatenate(rims)).all(axis=1)]
    vertices, faces, parent = refined(flat.vertices, patches.faces[coarse], size_mm, taken)
    fine = Mesh(vertices, np.vstack([others, faces]))
    free = np.zeros(len(vertices), dtype=bool)
    free[faces] = True
    free[: len(mesh.vertices)] = False
    return _sound(fine, fine.with_vertices(faired(fine, free)), owner[coarse][parent])


def _sizes_mm(flat: Mesh, rims: list[Ints]) -> Floats:
    """Return how long the edges of the patches are to be at each vertex: as on their rim.

    A rim of very many short edges is spanned less finely inside, and a point in the middle of a fan
    asks for no finer edges than the rim.
    """
    total, times = np.zeros(len(flat.vertices)), np.zeros(len(flat.vertices))
    for rim in rims:
        ahead = np.roll(rim, -1)
        lengths = np.linalg.norm(flat.vertices[ahead] - flat.vertices[rim], axis=1)
        across = float(np.linalg.norm(np.ptp(flat.vertices[rim], axis=0)))
        for ends in (rim, ahead):
            np.add.at(total, ends, np.maximum(lengths, across / MOST_ACROSS_PATCH))
            np.add.at(times, ends, 1.0)
    met = times > 0.0
    size_mm = np.full(len(total), total[met].sum() / max(times[met].sum(), 1.0))
    size_mm[met] = total[met] / times[met]
    return size_mm


def _long(patches: Mesh, size_mm: Floats) -> Bools:
    """Return which faces have an edge within their patch that is much longer than its rim's."""
    edges = patches.edges
    wanted_mm = LONG_IN_PATCH_SHARE * size_mm[edges.ends].mean(axis=1)
    long = (edge_lengths_mm(patches.vertices, edges) > wanted_mm) & (edges.uses == 2)
    found: Bools = long[edges.of_face].any(axis=1)
    return found


def _sound(flat: Mesh, smooth: Mesh, owner: Ints) -> Mesh:
    """Return the smooth mesh with those of its patches flat that would cross or bulge too far.

    The patches are the last faces, ``owner`` (k,) the number of each.
    """
    last = np.arange(len(flat.faces) - len(owner), len(flat.faces))
    vertices = smooth.vertices.copy()
    low, high = smooth.corners.min(axis=1), smooth.corners.max(axis=1)
    for number in np.unique(owner):
        patch = last[owner == number]
        own = np.unique(flat.faces[patch])
        across = np.linalg.norm(np.ptp(flat.vertices[own], axis=0))
        moved = np.linalg.norm(smooth.vertices[own] - flat.vertices[own], axis=1)
        near = (low <= high[patch].max(axis=0)) & (high >= low[patch].min(axis=0))
        near = near.all(axis=1)
        chosen = np.isin(np.flatnonzero(near), patch)
        crosses = crossing_faces(chosen_faces(smooth, near), chosen)
        if moved.max() > FAR_FROM_FLAT_SHARE * across or crosses.any():
            vertices[own] = flat.vertices[own]
    return smooth.with_vertices(vertices)
