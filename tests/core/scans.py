"""Scan results made by hand from closed meshes: a later stage is tested without the scan stage."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pymeshfix
import trimesh
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import area_cm2, enclosed_volume_ml
from blender_addon.core.scan.result import ScanResult

RISER_MM = 6.35


def standing(mesh, riser_mm=RISER_MM, seam_mm=1.0):
    """Return the scan result of a closed mesh that is upright already: set on its riser, centred.

    What faces down within ``seam_mm`` of the lowest point stands on the riser; its outline is the
    riser's. A mesh that stands on a point or an edge has no riser outline.
    """
    low, high = mesh.bounds
    shift = np.append(-(low + high)[:2] / 2, riser_mm - low[2])
    placement = np.eye(4)
    placement[:3, 3] = shift
    stood = mesh.moved(placement)
    vectors = stood.vectors_mm2
    near = (stood.corners[:, :, 2] <= riser_mm + seam_mm).all(axis=1)
    base = near & (vectors[:, 2] < -0.5 * np.linalg.norm(vectors, axis=1))
    pieces, through_holes = _shells(stood)
    return ScanResult(
        mesh=stood,
        source_faces=np.arange(len(mesh.faces)),
        base_faces=base,
        riser_outline=_outlines(stood, stood.faces[base]),
        riser_mm=riser_mm,
        placement=placement,
        triangles=len(mesh.faces),
        size_mm=tuple(float(s) for s in high - low),
        volume_ml=enclosed_volume_ml(stood),
        area_cm2=area_cm2(stood),
        open_edges=0,
        holes=(),
        pieces=pieces,
        through_holes=through_holes,
        up="+z",
        scale=1.0,
        changes=(),
    )


@cache
def bunny(height_mm=150.0):
    """Return the open scan that comes with pymeshfix, closed and scaled to a height.

    Source: Stanford University Computer Graphics Laboratory, Stanford 3D Scanning Repository, 1994.
    """
    closed = _closed_bunny()
    return closed.with_vertices(closed.vertices * (height_mm / np.ptp(closed.vertices[:, 2])))


@cache
def _closed_bunny():
    path = Path(pymeshfix.__file__).parent / "examples" / "StanfordBunny.ply"
    given = trimesh.load(path, process=True)
    fix = pymeshfix.MeshFix(np.array(given.vertices, float), np.array(given.faces, np.int32))
    fix.repair()
    return Mesh(np.asarray(fix.points, float), np.asarray(fix.faces))


def _outlines(mesh, faces):
    """Return the boundary loops of down-facing triangles, seen from above."""
    directed = faces[:, [1, 0, 2, 1, 0, 2]].reshape(
        -1, 2
    )  # turned over: the outside goes round left
    have = {(int(a), int(b)) for a, b in directed}
    onward = {a: b for a, b in have if (b, a) not in have}
    loops = []
    while onward:
        start, at = next(iter(onward.items()))
        loop = [start]
        del onward[start]
        while at != start and at in onward:
            loop.append(at)
            at = onward.pop(at)
        if at == start and len(loop) > 2:
            loops.append(mesh.vertices[loop, :2])
    return tuple(loops)


def _shells(mesh):
    """Return how many shells there are, and how many handles (Euler: V - E + F = 2 c - 2 g)."""
    edges = np.unique(np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1), axis=0)
    used, where = np.unique(edges, return_inverse=True)
    a, b = where.reshape(-1, 2).T
    links = coo_matrix((np.ones(len(a)), (a, b)), shape=(len(used), len(used)))
    pieces = int(connected_components(links, directed=False)[0])
    return pieces, pieces - (len(used) - len(edges) + len(mesh.faces)) // 2
