"""Leaning the case during the pour: which lean traps least."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import (
    LEAN_AROUND_DEG,
    LEAN_COLUMNS,
    LEAN_STEPS_DEG,
    LEAST_LEAN_GAIN,
    LEAST_LEAN_ML,
    STILL_TRAPPED_SHARE,
)
from ..geometry.connect import clustered
from ..geometry.solid import face_areas_mm2
from .flags import trapped_faces
from .pockets import trapped_air
from .result import Lean

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .pockets import Air
    from .settings import BubblesSettings


def leaned(mesh: Mesh, degrees: float, towards_deg: float) -> Mesh:
    """Return the mesh as it stands when its top leans towards a direction, from +x to the left.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> pole = Mesh([[0, 0, 0], [0, 0, 10], [1, 0, 0]], [[0, 1, 2]])
    >>> leaned(pole, 90.0, 0.0).vertices[1].round(9).tolist()
    [10.0, 0.0, 0.0]
    """
    return mesh.with_vertices(mesh.vertices @ lean_turn(degrees, towards_deg).T)


def lean_turn(degrees: float, towards_deg: float) -> Floats:
    """Return the rotation (3, 3) that leans the top towards a direction, from +x to the left."""
    lean, towards = np.radians([degrees, towards_deg])
    axis = np.array([-np.sin(towards), np.cos(towards), 0.0])
    x, y, _ = axis
    cross = np.array([[0.0, 0.0, y], [0.0, 0.0, -x], [-y, x, 0.0]])
    turn: Floats = np.eye(3) + np.sin(lean) * cross + (1.0 - np.cos(lean)) * cross @ cross
    return turn


@dataclass(frozen=True)
class LeanMap:
    """All leans looked at, least trapped air first; the best, computed finely; what frees what.

    ``freed_by`` has an entry for each pocket: the least lean that frees it, or None.
    """

    best: Lean
    leans: tuple[Lean, ...]
    freed_by: tuple[Lean | None, ...]


def lean_map(
    mesh: Mesh,
    base_faces: Bools,
    face_pocket: Ints,
    upright: Lean,
    settings: BubblesSettings,
    watch: Watch,
) -> LeanMap:
    """Look how the trapped air changes when the case leans, up to a limit, in every direction.

    The map is made on a coarser mesh; only its best lean is computed at the pitch of the map. A
    pocket counts as freed when hardly any of its faces still stands in trapped air.

    Parameters
    ----------
    mesh : Mesh
        Closed, upright.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    face_pocket : ndarray, shape (m,)
        The pocket each face stands in when upright, -1 outside.
    upright : Lean
        No lean, and what it traps.
    settings : BubblesSettings
        Its limit of leaning, and the pitch.
    watch : Watch
        Told after each lean, from 0.7 to 1.
    """
    pockets = int(face_pocket.max(initial=-1)) + 1
    tries = _tries(settings.lean_limit_deg)
    if not tries or upright.trapped_ml < LEAST_LEAN_ML:
        return LeanMap(upright, (), (None,) * pockets)
    low, high = mesh.bounds
    pitch = float((high - low).max()) / LEAN_COLUMNS
    rough, kept = clustered(mesh, 0.75 * pitch)
    leans: list[Lean] = []
    freed_by: list[Lean | None] = [None] * pockets
    for number, (degrees, towards) in enumerate(tries):
        watch.at(0.7 + 0.3 * number / len(tries))
        stood = leaned(rough, degrees, towards)
        air = trapped_air(stood, base_faces[kept], pitch)
        leans.append(Lean(degrees, towards, air.trapped_ml))
        for pocket in _freed(stood, air, face_pocket[kept], pockets):
            freed_by[pocket] = freed_by[pocket] or leans[-1]
    leans.sort(key=lambda lean: lean.trapped_ml)
    first = leans[0]
    exact = trapped_air(
        leaned(mesh, first.degrees, first.towards_deg), base_faces, settings.pitch_mm
    )
    best = Lean(first.degrees, first.towards_deg, exact.trapped_ml)
    if best.trapped_ml > (1.0 - LEAST_LEAN_GAIN) * upright.trapped_ml:
        best = upright
    return LeanMap(best, tuple(leans), tuple(freed_by))


def _tries(limit_deg: float) -> list[tuple[float, float]]:
    """Return leans and directions, the slightest leans first, the limit itself last."""
    steps = [*np.arange(LEAN_STEPS_DEG, limit_deg, LEAN_STEPS_DEG).tolist(), limit_deg]
    around = np.arange(0.0, 360.0, LEAN_AROUND_DEG).tolist()
    return [(degrees, towards) for degrees in steps if degrees > 0.0 for towards in around]


def _freed(mesh: Mesh, air: Air, face_pocket: Ints, pockets: int) -> list[int]:
    """Return the pockets of which less than `STILL_TRAPPED_SHARE` stands in trapped air here."""
    inside = np.flatnonzero(face_pocket >= 0)
    depth, _ = trapped_faces(mesh, air, inside)
    own, areas = face_pocket[inside], face_areas_mm2(mesh)[inside]
    whole = np.bincount(own, areas, pockets)
    left = np.bincount(own, areas * (depth > 0.0), pockets)
    return np.flatnonzero((left < STILL_TRAPPED_SHARE * whole) & (whole > 0.0)).tolist()
