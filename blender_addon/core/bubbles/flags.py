"""Which faces stand in trapped air, and how deep."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import LEAST_POCKET_ML
from ..units import ML_PER_MM3
from .escape import NO_GATE

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from .pockets import Air


def trapped_faces(mesh: Mesh, air: Air, chosen: Ints | None = None) -> tuple[Floats, Ints]:
    """Return how deep faces stand in trapped air, and the gate of that air.

    A face is asked at its middle, a little off the surface, in its own column and the four beside
    it: steep faces often stand between two. Pockets too small to be listed do not count.

    Parameters
    ----------
    mesh : Mesh
        That the air was found round.
    air : Air
    chosen : ndarray, shape (k,), optional
        Numbers of the faces to ask; all when left out.

    Returns
    -------
    depth_mm : ndarray, shape (k,)
        Height above the escape level, 0 outside trapped air.
    gate : ndarray, shape (k,)
        `NO_GATE` outside trapped air.
    """
    faces = np.arange(len(mesh.faces)) if chosen is None else chosen
    pitch = air.spaces.grid.pitch_mm
    vectors = mesh.vectors_mm2[faces]
    lengths = np.maximum(np.linalg.norm(vectors, axis=1), 1e-300)[:, None]
    a, b, c = (mesh.vertices[mesh.faces[faces, k]] for k in range(3))
    points = (a + b + c) / 3.0 + 0.3 * pitch * vectors / lengths
    levels = np.where(_worth_listing(air), _level_mm(air), np.inf)
    depth, gate = np.zeros(len(points)), np.full(len(points), NO_GATE, dtype=np.int64)
    for step in ((0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)):
        space = _space_of(air, points + pitch * np.array([*step, 0.0]))
        found = np.where(space >= 0, points[:, 2] - levels[space], 0.0)
        fresh = (depth <= 0.0) & (found > 0.0)
        depth[fresh], gate[fresh] = found[fresh], air.escapes.gate[space[fresh]]
    return depth, gate


def _level_mm(air: Air) -> Floats:
    level_mm = air.escapes.level_mm
    return np.where(np.isfinite(level_mm), level_mm, air.spaces.floor_mm)


def _worth_listing(air: Air) -> Bools:
    """Return which spaces hold air of a pocket that is listed."""
    held = air.trapped_mm * air.spaces.grid.pitch_mm**2 * ML_PER_MM3
    _, pocket = np.unique(air.escapes.gate, return_inverse=True)
    worth: Bools = (np.bincount(pocket, held)[pocket] >= LEAST_POCKET_ML) & (air.trapped_mm > 0.0)
    return worth


def _space_of(air: Air, points: Floats) -> Ints:
    """Return the roofed space (k,) that each point (k, 3) lies in, or -1."""
    spaces, grid = air.spaces, air.spaces.grid
    first = np.array([grid.x_mm, grid.y_mm])
    i, j = np.rint((points[:, :2] - first) / grid.pitch_mm).astype(np.int64).T
    cell = np.clip(i, 0, grid.nx - 1) * grid.ny + np.clip(j, 0, grid.ny - 1)
    roofs = spaces.ceiling_mm[1:]
    if not len(roofs) or not len(points):
        return np.full(len(points), -1)
    low = min(float(roofs.min()), float(points[:, 2].min()))
    span = 2.0 * (max(float(roofs.max()), float(points[:, 2].max())) - low) + 1.0
    key = spaces.cell[1:] + (roofs - low) / span  # sorted: by cell, then from below
    found = np.searchsorted(key, cell + (points[:, 2] - low) / span)
    space = np.minimum(found, len(roofs) - 1) + 1
    inside = (spaces.cell[space] == cell) & (points[:, 2] > spaces.floor_mm[space])
    inside &= points[:, 2] <= spaces.ceiling_mm[space]
    return np.where(inside, space, -1)
