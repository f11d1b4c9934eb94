"""What it costs to cut at a place of the surface: seen, fine, thin, far from the seam."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    DETAIL_GRIDS,
    FRONT_HALF_DEG,
    GENTLE_BEND,
    MOST_SEEN,
    SEEN_CELLS,
    SHUT_IN_COST,
    SIGHT_LINES,
    TEETH_PITCH_MM,
    THICK_COST,
    UNSEEN_BACK_SHARE,
)

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .settings import CutSettings


def costs(mesh: Mesh, case: CaseResult, settings: CutSettings) -> Floats:
    """Return for each vertex (n,) what a millimetre of slit costs: 1 where nothing speaks against.

    Parameters
    ----------
    mesh : Mesh
        The master in the job frame, its edges short.
    case : CaseResult
        Front, wall and seams.
    settings : CutSettings
        The weights.
    """
    shown, reached = seen(mesh, np.array(case.front))
    total = 1.0 + SHUT_IN_COST * ~reached
    total += settings.front_weight * shown
    total += settings.detail_weight * detail(mesh, settings.detail_mm)
    plan = mesh.vertices[:, :2]
    total += settings.rubber_weight * misfit(case.bore.distances_mm(plan), wanted_mm(settings))
    return total + settings.seam_weight * np.abs(plan[:, 1]) / case.bore.reach_mm


def wanted_mm(settings: CutSettings) -> float:
    """Return the thickness that a whole tooth, the straight part and the margins take."""
    tooth = settings.tooth_mm or float(np.mean(TEETH_PITCH_MM))
    return settings.straight_mm + settings.keep_off_mm + tooth / 2.0


def misfit(thickness_mm: Floats, wanted: float) -> Floats:
    """Return how ill the rubber's thickness suits teeth: 1 where there is none, little if thick.

    Examples
    --------
    >>> misfit(np.array([0.0, 10.0, 20.0]), 10.0).round(2).tolist()
    [1.0, 0.0, 0.15]
    """
    share = thickness_mm / wanted
    return np.clip(1.0 - share, 0.0, 1.0) + THICK_COST * np.clip(share - 1.0, 0.0, None)


def seen(mesh: Mesh, front: Floats) -> tuple[Floats, Bools]:
    """Return how much of each vertex shows from the front, 0 to 1, and whether a blade reaches it.

    It shows by the mean, over level directions round the front, of how squarely it looks there
    where nothing stands before it; and a little by standing on the front's side of the piece. A
    blade reaches what is in sight from any side.

    Parameters
    ----------
    mesh : Mesh
        Its edges short.
    front : ndarray, shape (2,)
        Unit vector in plan to where the best side looks.
    """
    normals = _vertex_normals(mesh)
    step = 360.0 / SIGHT_LINES
    inside = int(FRONT_HALF_DEG // step)
    shown, reached = np.zeros(len(mesh.vertices)), np.zeros(len(mesh.vertices), dtype=np.bool_)
    for number in range(SIGHT_LINES):
        turn = np.radians(step * number)
        way = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ front
        sight = _in_sight(mesh, way)
        reached |= sight
        if min(number, SIGHT_LINES - number) <= inside:
            squarely = np.clip(normals[:, :2] @ way, 0.0, 1.0)
            shown += np.where(sight, squarely, 0.0) / (2 * inside + 1)
    low, high = mesh.bounds
    off = mesh.vertices[:, :2] - (low + high)[:2] / 2.0
    length = np.maximum(np.hypot(off[:, 0], off[:, 1]), np.finfo(float).tiny)
    side = (1.0 + off @ front / length) / 2.0
    return (1.0 - UNSEEN_BACK_SHARE) * shown + UNSEEN_BACK_SHARE * side, reached


def _in_sight(mesh: Mesh, way: Floats) -> Bools:
    """Return whether each vertex is the first, seen along a level direction from far off."""
    x, y, z = mesh.vertices.T
    depth = x * way[0] + y * way[1]
    beside = y * way[0] - x * way[1]
    per_cell = SEEN_CELLS / max(float(np.ptp(beside)), float(np.ptp(z)))
    columns: Ints = ((beside - beside.min()) * per_cell).astype(np.int64)
    rows: Ints = ((z - z.min()) * per_cell).astype(np.int64)
    spot = columns * (int(rows.max()) + 1) + rows
    nearest = np.full(int(spot.max()) + 1, -np.inf)
    some = slice(None, None, max(len(spot) // MOST_SEEN, 1))  # of a dense scan, every other vertex
    np.maximum.at(nearest, spot[some], depth[some])
    sight: Bools = depth >= nearest[spot] - 2.0 / per_cell
    return sight


def detail(mesh: Mesh, scale_mm: float) -> Floats:
    """Return for each vertex (n,) how sharply the surface bends there, 1 from 1 / scale on.

    In each cube of that size the mean of the faces' normals, weighted by area, is as much shorter
    than 1 as they spread: on a sphere of radius R, by (scale / 4 R)**2. What bends more gently than
    three times the scale is the shape, and no detail.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> detail(Mesh([[0, 0, 0], [2, 0, 0], [0, 2, 0]], [[0, 1, 2]]), 1.0).tolist()
    [0.0, 0.0, 0.0]
    """
    middles = mesh.corners.mean(axis=1) / scale_mm
    middles -= middles.min(axis=0)
    shifts = np.arange(DETAIL_GRIDS) / DETAIL_GRIDS  # or where the cubes begin would show
    bend = np.mean([_bend(mesh, middles + shift) for shift in shifts], axis=0)
    sharp = np.clip((bend - GENTLE_BEND) / (1.0 - GENTLE_BEND), 0.0, 1.0)
    return _at_vertices(mesh, sharp)


def _bend(mesh: Mesh, places: Floats) -> Floats:
    """Return for each face the bend in its cube of side 1, by the scale."""
    cells = places.astype(np.int64)
    wide = cells.max(axis=0) + 1
    key = (cells[:, 0] * wide[1] + cells[:, 1]) * wide[2] + cells[:, 2]
    _, cube = np.unique(key, return_inverse=True)
    vectors = mesh.vectors_mm2
    area = np.bincount(cube, np.linalg.norm(vectors, axis=1))
    sums = np.stack([np.bincount(cube, vectors[:, axis]) for axis in range(3)])
    spread = 1.0 - np.linalg.norm(sums, axis=0) / np.maximum(area, np.finfo(float).tiny)
    bend: Floats = 4.0 * np.sqrt(np.clip(spread, 0.0, 1.0))
    return bend[cube]


def _at_vertices(mesh: Mesh, of_face: Floats) -> Floats:
    count = len(mesh.vertices)
    uses = np.bincount(mesh.faces.ravel(), minlength=count)
    mean: Floats = np.bincount(mesh.faces.ravel(), np.repeat(of_face, 3), count)
    return mean / np.maximum(uses, 1)


def _vertex_normals(mesh: Mesh) -> Floats:
    corner, count = mesh.faces.ravel(), len(mesh.vertices)
    sums = [
        np.bincount(corner, np.repeat(mesh.vectors_mm2[:, axis], 3), count) for axis in range(3)
    ]
    normals = np.column_stack(sums)
    lengths = np.maximum(np.linalg.norm(normals, axis=1), np.finfo(float).tiny)
    unit: Floats = normals / lengths[:, None]
    return unit
