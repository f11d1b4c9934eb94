"""Openings of the scan: the base is closed flat in its own plane, the others by a patch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants import EVEN_RIM_SHARE, RAGGED_RIM_SHARE, WIDE_RIM_SHARE
from ..geometry.loops import simple_loops
from ..geometry.mesh import Mesh
from ..geometry.solid import open_edges
from .result import Hole

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


@dataclass(frozen=True, eq=False)
class Closed:
    """The mesh with faces added at its end; ``base`` are the openings that it stood on."""

    mesh: Mesh
    holes: tuple[Hole, ...]
    base: tuple[Hole, ...]


def rims_of(mesh: Mesh) -> list[Ints]:
    """Return the rim of each opening, walked so that a patch on it faces outward."""
    return simple_loops(open_edges(mesh)[:, ::-1])


def closed(mesh: Mesh) -> Closed:
    """Close every opening of an upright mesh.

    What the piece stood on is closed flat in the plane of its lowest point: a wide rim near that
    plane that opens downward, ragged as it may be, or a small one all but in the plane.

    Parameters
    ----------
    mesh : Mesh
        Faces agree on which side is out; z up.

    Returns
    -------
    Closed
    """
    vertices, curtains, spans = mesh.vertices, [np.zeros((0, 3), dtype=np.int64)], []
    holes, base = [], []
    low, high = mesh.bounds
    for rim in rims_of(mesh):
        points = vertices[rim]
        if _stood_on(points, low, high):
            vertices, curtain, foot = _curtain(vertices, rim, float(low[2]))
            curtains.append(curtain)
            spans.append(foot)
            base.append(_hole(points))
        else:
            spans.append(rim)
            holes.append(_hole(points))
    draped = Mesh(vertices, np.vstack([mesh.faces, *curtains]))
    return Closed(_spanned(draped, spans), tuple(holes), tuple(base))


def _spanned(mesh: Mesh, rims: list[Ints]) -> Mesh:
    """Return the mesh with a patch on each rim, new faces last.

    A patch that would use an edge that two other faces share already, as on a narrow bridge between
    two holes, becomes a fan round a point of its own.
    """
    patches = [_patch(mesh.vertices[rim], rim) for rim in rims]
    if not patches:
        return mesh
    whole = Mesh(mesh.vertices, np.vstack([mesh.faces, *patches]))
    crowded = (whole.edges.uses[whole.edges.of_face] > 2).any(axis=1)[len(mesh.faces) :]
    ends = np.cumsum([len(patch) for patch in patches])[:-1]
    middles = [mesh.vertices]
    for number, bad in enumerate(np.split(crowded, ends)):
        if bad.any():
            rim, middle = rims[number], len(mesh.vertices) + len(middles) - 1
            middles.append(mesh.vertices[rim].mean(axis=0, keepdims=True))
            patches[number] = np.column_stack([rim, np.roll(rim, -1), np.full(len(rim), middle)])
    return Mesh(np.vstack(middles), np.vstack([mesh.faces, *patches]))


def _area_vector(points: Floats) -> Floats:
    centred = points - points.mean(axis=0)
    vector: Floats = np.cross(centred, np.roll(centred, -1, axis=0)).sum(axis=0) / 2.0
    return vector


def _stood_on(points: Floats, low: Floats, high: Floats) -> bool:
    size = high - low
    across = np.linalg.norm(np.ptp(points[:, :2], axis=0))
    wide = across > WIDE_RIM_SHARE * np.linalg.norm(size[:2])
    band = (RAGGED_RIM_SHARE if wide else EVEN_RIM_SHARE) * size[2]
    return bool(points[:, 2].max() <= low[2] + band) and _faces_down(points)


def _faces_down(points: Floats) -> bool:
    """Return whether a patch on this rim would face the table rather than sideways or up."""
    vector = _area_vector(points)
    return bool(vector[2] < -0.7 * np.linalg.norm(vector))


def _hole(points: Floats) -> Hole:
    x, y, z = points.mean(axis=0).tolist()
    across = float(np.linalg.norm(np.ptp(points, axis=0)))
    return Hole(len(points), across, (x, y, z))


def _curtain(vertices: Floats, rim: Ints, lowest: float) -> tuple[Floats, Ints, Ints]:
    """Let a curtain fall from a rim onto the plane; return its faces, and the rim at its foot."""
    foot = vertices[rim].copy()
    high = foot[:, 2] > lowest
    foot[:, 2] = lowest
    below = rim.copy()
    below[high] = len(vertices) + np.arange(np.count_nonzero(high))
    rim_next, below_next = np.roll(rim, -1), np.roll(below, -1)
    first = np.column_stack([rim, rim_next, below_next])[below_next != rim_next]
    second = np.column_stack([rim, below_next, below])[below != rim]
    return np.vstack([vertices, foot[high]]), np.vstack([first, second]), below


def _patch(points: Floats, rim: Ints) -> Ints:
    """Return triangles that span a rim, laid out in the plane that fits it best."""
    out = _area_vector(points)
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
