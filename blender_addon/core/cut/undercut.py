"""How well two halves come off: pulled apart along a level direction."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    HALVES_DIRECTIONS,
    HALVES_PLANES,
    MINOR_PART_SHARE,
    SPLIT_DETAIL_CELLS,
    UNDERCUT_CELLS,
)
from ..geometry.columns import solids_of
from ..geometry.connect import clustered
from ..geometry.girth import girths_mm
from ..geometry.plane_cuts import level_cuts
from ..geometry.rows import grid_over, row_cuts
from ..geometry.sections import sections_of
from ..units import ML_PER_MM3
from .rings import rings_of

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh
    from .rings import Rings


@dataclass(frozen=True, eq=False)
class Split:
    """Two halves pulled apart along ``towards`` (2,), a unit vector in plan, and against it.

    ``at_mm`` is how far along it the plane lies that they part near. ``needed_stretch`` is that of
    the tighter half; ``excess`` how far it goes beyond what the rubber stretches, by the part of
    the piece's depth that is concerned. ``undercut_ml`` is the rubber that stands behind something
    on either side.
    """

    towards: Floats
    at_mm: float
    needed_stretch: float
    excess: float
    undercut_ml: float

    @property
    def frame(self) -> Floats:
        """The turn (3, 3) that brings a point to across, up and along."""
        x, y = self.towards
        return np.array([[-y, x, 0.0], [0.0, 0.0, 1.0], [x, y, 0.0]])

    def placed(self, placement: Floats) -> Split:
        """Return it turned about the upright and shifted in plan by a matrix (4, 4)."""
        towards = placement[:2, :2] @ self.towards
        along = float(towards @ placement[:2, 3])
        return replace(self, towards=towards, at_mm=self.at_mm + along)


def best_split(mesh: Mesh, allowed: float, split_deg: float) -> Split:
    """Return the split with the least undercut beyond what the rubber stretches.

    Parameters
    ----------
    mesh : Mesh
        The master, simplified: it is looked at from many sides.
    allowed : float
        Stretch of the rubber.
    split_deg : float
        Direction in the job's frame to take instead, from +x counter-clockwise; below 0 the best.
    """
    if split_deg >= 0.0:
        return split_along(mesh, np.radians(split_deg), allowed)
    turns = np.pi * np.arange(HALVES_DIRECTIONS) / HALVES_DIRECTIONS
    low, high = mesh.bounds
    coarse, _ = clustered(mesh, float((high - low).max()) / SPLIT_DETAIL_CELLS)
    return split_along(mesh, _best_turn(coarse, turns, allowed), allowed)


def _best_turn(mesh: Mesh, turns: Floats, allowed: float) -> float:
    """Return the first direction of the least excess, and of the least undercut among these.

    The undercut is quick to measure, and no excess is below zero: of directions by their undercut,
    none comes after the first without any excess.
    """
    undercuts = [_undercut_ml(_turned(mesh, float(turn))) for turn in turns]
    found: list[tuple[float, float, int]] = []
    for number in np.argsort(undercuts, kind="stable").tolist():
        excess = split_along(mesh, float(turns[number]), allowed).excess
        found.append((excess, undercuts[number], number))
        if excess == 0.0:
            break
    return float(turns[min(found)[2]])


def _turned(mesh: Mesh, turn: float) -> Mesh:
    """Return a mesh with a level direction upright, as `Split.frame` turns it."""
    towards = np.array([np.cos(turn), np.sin(turn)])
    return mesh.with_vertices(mesh.vertices @ Split(towards, 0.0, 0.0, 0.0, 0.0).frame.T)


def split_along(mesh: Mesh, turn: float, allowed: float) -> Split:
    """Measure the split along a direction, at the plane of the widest girth.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[-4, 0, 0], [4, 0, 0], [0, 4, 0], [0, -4, 0], [0, 0, 4], [0, 0, -4]]
    >>> faces = [[1, 2, 4], [2, 0, 4], [0, 3, 4], [3, 1, 4], [2, 1, 5], [0, 2, 5], [3, 0, 5],
    ...          [1, 3, 5]]
    >>> diamond = split_along(Mesh(corners, faces), 0.0, 0.5)
    >>> round(diamond.needed_stretch, 3), round(diamond.undercut_ml, 3), abs(diamond.at_mm) < 0.11
    (0.0, 0.0, True)
    """
    towards = np.array([np.cos(turn), np.sin(turn)])
    turned = _turned(mesh, turn)
    low, high = (float(end[2]) for end in turned.bounds)
    heights = low + (high - low) * (np.arange(HALVES_PLANES) + 0.5) / HALVES_PLANES
    cuts = level_cuts(turned, heights)
    at = float(heights[girths_mm(sections_of(cuts, heights)).argmax()])
    ahead = _stretches(rings_of(turned, heights, cuts, at), heights > at)
    back = turned.moved(np.diag([1.0, -1.0, -1.0, 1.0]))
    behind_at = -heights[::-1]
    behind = _stretches(
        rings_of(back, behind_at, level_cuts(back, behind_at), -at), behind_at > -at
    )
    excess = sum(
        float(np.clip(needed - allowed, 0.0, None).sum()) / len(heights)
        for needed in (ahead, behind)
    )
    most = max(float(np.max(one, initial=0.0)) for one in (ahead, behind))
    return Split(towards, at, most, excess, _undercut_ml(turned))


def _stretches(rings: Rings, chosen: Bools) -> Floats:
    """Return what each chosen height's tightest ring of a large part has to stretch."""
    large = rings.passing_mm >= MINOR_PART_SHARE * np.max(rings.passing_mm, initial=0.0)
    kept = large & chosen[rings.level]
    most = np.zeros(len(chosen))
    np.maximum.at(most, rings.level[kept], rings.stretch[kept])
    return most


def _undercut_ml(turned: Mesh) -> float:
    """Return the rubber between solid and solid along z."""
    pitch = float(np.ptp(turned.vertices, axis=0).max()) / UNDERCUT_CELLS
    grid = grid_over(turned.vertices, pitch)
    solids = solids_of(row_cuts(turned.vertices, turned.faces, grid), grid)
    same = solids.cell[1:] == solids.cell[:-1]
    gaps = (solids.low_mm[1:] - solids.high_mm[:-1])[same]
    return float(gaps.sum()) * pitch**2 * ML_PER_MM3
