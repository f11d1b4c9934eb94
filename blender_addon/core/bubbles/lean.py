"""Leaning the case during the pour: which lean traps least."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import LEAN_COLUMNS, LEAN_STEPS_DEG, LEAST_LEAN_GAIN, LEAST_LEAN_ML
from ..geometry.connect import clustered
from .pockets import trapped_air
from .result import Lean

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh
    from ..watch import Watch


def leaned(mesh: Mesh, degrees: float, towards_deg: float) -> Mesh:
    """Return the mesh as it stands when its top leans towards a direction, from +x to the left.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> pole = Mesh([[0, 0, 0], [0, 0, 10], [1, 0, 0]], [[0, 1, 2]])
    >>> leaned(pole, 90.0, 0.0).vertices[1].round(9).tolist()
    [10.0, 0.0, 0.0]
    """
    return mesh.with_vertices(mesh.vertices @ _turn(degrees, towards_deg).T)


def _turn(degrees: float, towards_deg: float) -> Floats:
    lean, towards = np.radians([degrees, towards_deg])
    axis = np.array([-np.sin(towards), np.cos(towards), 0.0])
    x, y, _ = axis
    cross = np.array([[0.0, 0.0, y], [0.0, 0.0, -x], [-y, x, 0.0]])
    turn: Floats = np.eye(3) + np.sin(lean) * cross + (1.0 - np.cos(lean)) * cross @ cross
    return turn


def best_lean(
    mesh: Mesh,
    base_faces: Bools,
    limit_deg: float,
    pitch_mm: float,
    trapped_ml: float,
    watch: Watch,
) -> Lean:
    """Return the lean up to a limit that traps least; upright where none gains enough.

    Parameters
    ----------
    mesh : Mesh
        Closed, upright.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    limit_deg : float
        How far the case may lean.
    pitch_mm : float
        Pitch that the chosen lean is computed with.
    trapped_ml : float
        What stays when it stands upright.
    watch : Watch
        Told after each lean.
    """
    upright = Lean(0.0, 0.0, trapped_ml)
    steps = np.arange(LEAN_STEPS_DEG, limit_deg + 1e-9, LEAN_STEPS_DEG)
    tries = [(degrees, towards) for degrees in steps for towards in np.arange(0.0, 360.0, 45.0)]
    if not tries or trapped_ml < LEAST_LEAN_ML:
        return upright
    low, high = mesh.bounds
    coarse = float((high - low).max()) / LEAN_COLUMNS
    rough, kept = clustered(mesh, 0.5 * coarse)
    rough_base = base_faces[kept]
    found = []
    for number, (degrees, towards) in enumerate(tries):
        watch.at(number / len(tries))
        air = trapped_air(leaned(rough, degrees, towards), rough_base, coarse)
        found.append((air.trapped_ml, degrees, towards))
    _, degrees, towards = min(found)
    exact = trapped_air(leaned(mesh, degrees, towards), base_faces, pitch_mm).trapped_ml
    if exact > (1.0 - LEAST_LEAN_GAIN) * trapped_ml:
        return upright
    return Lean(float(degrees), float(towards), exact)
