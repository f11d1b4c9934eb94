"""Which way is up: an axis that the maker names, or the flat place the piece stood on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import ConvexHull, QhullError

from ..constants.scan import BASE_ROUGHNESS, FLAT_BASE_SHARE, PREFER_GIVEN_UP, RAGGED_RIM_SHARE
from ..errors import UnusableMeshError
from ..geometry.loops import simple_loops
from ..geometry.solid import open_edges
from .settings import AUTO

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh

AXIS_VECTORS = {
    "+x": (1.0, 0.0, 0.0), "-x": (-1.0, 0.0, 0.0), "+y": (0.0, 1.0, 0.0),
    "-y": (0.0, -1.0, 0.0), "+z": (0.0, 0.0, 1.0), "-z": (0.0, 0.0, -1.0),
}  # fmt: skip
_AGREES = 0.97  # cosine: normals within 14 degrees, as a scanned flat base is rough
_CANDIDATES = 24


@dataclass(frozen=True, eq=False)
class Up:
    """The direction ``vector`` (3,), the axis nearest to it, and whether a flat base was found."""

    vector: Floats
    axis: str
    flat_base: bool


def find_up(mesh: Mesh, wanted: str) -> Up:
    """Return which way the scan points up in the pour.

    Parameters
    ----------
    mesh : Mesh
        As scanned, perhaps open.
    wanted : str
        An axis such as "+z", or "auto": away from the plane of its hull with the most surface, or
        opening, lying in it, though a fair base under +z goes before a larger one elsewhere;
        where hardly any does, +z.
    """
    if wanted != AUTO:
        return Up(np.array(AXIS_VECTORS[wanted]), wanted, flat_base=True)
    normals, offsets = _hull_planes(mesh)
    size = float(np.linalg.norm(np.ptp(mesh.bounds, axis=0)))
    vectors = mesh.vectors_mm2
    vectors_at = mesh.corners.mean(axis=1)
    rims, rims_at = _openings(mesh)
    vectors, at = np.vstack([vectors, rims]), np.vstack([vectors_at, rims_at])
    if float((vectors * (at - at.mean(axis=0))).sum()) < 0.0:
        vectors = -vectors  # a scan that was written inside out stands on the same base
    near = np.full(len(vectors), BASE_ROUGHNESS * size)
    near[len(vectors_at) :] = RAGGED_RIM_SHARE * size  # a rim is as ragged as the scanner left it
    lying = _lying_mm2(normals, offsets, vectors, at, near)
    best = int(np.argmax(np.where(-normals[:, 2] > _AGREES, lying / PREFER_GIVEN_UP, lying)))
    total = float(np.linalg.norm(vectors, axis=1).sum())
    if lying[best] < FLAT_BASE_SHARE * total:
        return Up(np.array(AXIS_VECTORS["+z"]), "+z", flat_base=False)
    up = -_mean_normal(normals[best], offsets[best], vectors, at, near)
    nearest = nearest_axis(up)
    exact = np.array(AXIS_VECTORS[nearest])
    return Up(exact if exact @ up > 1.0 - 1e-6 else up, nearest, flat_base=True)


def nearest_axis(vector: Floats) -> str:
    """Return the axis that a direction (3,) is nearest to.

    Examples
    --------
    >>> nearest_axis(np.array([0.1, -0.9, 0.2]))
    '-y'
    """
    return max(AXIS_VECTORS, key=lambda name: float(np.dot(AXIS_VECTORS[name], vector)))


def turn_to(up: Up) -> Floats:
    """Return the (3, 3) rotation that brings up to +z: quarter turns first, then the least turn."""
    quarter = {
        "+z": np.eye(3),
        "-z": np.diag([1.0, -1.0, -1.0]),
        "+y": np.array([[1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]]),
        "-y": np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]]),
        "+x": np.array([[0, 0, -1.0], [0, 1.0, 0], [1.0, 0, 0]]),
        "-x": np.array([[0, 0, 1.0], [0, 1.0, 0], [-1.0, 0, 0]]),
    }[up.axis]
    rest = quarter @ up.vector / np.linalg.norm(up.vector)
    axis = np.cross(rest, [0.0, 0.0, 1.0])
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    turn: Floats = (np.eye(3) + cross + cross @ cross / (1.0 + rest[2])) @ quarter
    return turn


def _hull_planes(mesh: Mesh) -> tuple[Floats, Floats]:
    """Return the planes of the convex hull that the piece might stand on, normals outward.

    Facets that nearly agree count together; the widest few are enough, and a fine scan has
    thousands.
    """
    try:
        hull = ConvexHull(mesh.vertices[np.unique(mesh.faces)])  # loose points are no piece
    except (QhullError, ValueError) as error:
        message = "The scan is flat: it has no volume to mold. Give a scan of a solid piece."
        raise UnusableMeshError(message) from error
    a, b, c = (hull.points[hull.simplices[:, k]] for k in range(3))
    areas = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    normals, offsets = hull.equations[:, :3], hull.equations[:, 3]
    best = []
    left = areas.copy()
    for number in range(_CANDIDATES):
        below = (normals[:, 2] < -_AGREES) & (number == 0)  # the given base is asked first
        widest = int(np.argmax(np.where(below, left, 0.0) if below.any() else left))
        if left[widest] <= 0.0:
            break
        best.append(widest)
        left[normals @ normals[widest] > _AGREES] = 0.0
    return normals[best], offsets[best]


def _openings(mesh: Mesh) -> tuple[Floats, Floats]:
    """Return area vector and middle of what would close each opening."""
    vectors, middles = [np.zeros((0, 3))], [np.zeros((0, 3))]
    for rim in simple_loops(open_edges(mesh)[:, ::-1]):
        points = mesh.vertices[rim]
        middle = points.mean(axis=0)
        arms = points - middle
        vectors.append(np.cross(arms, np.roll(arms, -1, axis=0)).sum(axis=0)[None] / 2.0)
        middles.append(middle[None])
    return np.vstack(vectors), np.vstack(middles)


def _lying_mm2(
    normals: Floats, offsets: Floats, vectors: Floats, at: Floats, near_mm: Floats
) -> Floats:
    """Return, for each plane, the area that lies in it."""
    lengths = np.linalg.norm(vectors, axis=1)
    directions = vectors / np.maximum(lengths, 1e-300)[:, None]
    inside = _in_plane(normals, offsets, directions, at, near_mm)
    lying: Floats = inside @ lengths
    return lying


def _in_plane(
    normals: Floats, offsets: Floats, directions: Floats, at: Floats, near_mm: Floats
) -> Floats:
    """Return 1 where a face (columns) faces as a plane (rows) does and is near it."""
    facing = normals @ directions.T > _AGREES
    near = normals @ at.T + offsets[:, None] > -near_mm
    both: Floats = (facing & near).astype(np.float64)
    return both


def _mean_normal(
    normal: Floats, offset: float, vectors: Floats, at: Floats, near_mm: Floats
) -> Floats:
    """Return the area-weighted normal of what lies in a plane: better than one hull facet's."""
    lengths = np.maximum(np.linalg.norm(vectors, axis=1), 1e-300)
    inside = _in_plane(normal[None], np.array([offset]), vectors / lengths[:, None], at, near_mm)[0]
    mean: Floats = (vectors * inside[:, None]).sum(axis=0)
    return mean / np.linalg.norm(mean)
