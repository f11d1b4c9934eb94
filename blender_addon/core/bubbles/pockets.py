"""Trapped air: what stands above the escape level, gathered into pockets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import LEAST_POCKET_ML
from ..geometry.columns import Reading
from ..units import CM2_PER_MM2, ML_PER_MM3
from .creep import crept, shore_of
from .escape import NO_GATE, Escapes, escapes
from .near import near_held, sure_faces
from .result import Pocket
from .spaces import VENT, Passages, Spaces, spaces_and_passages

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from .creep import Shore


@dataclass(frozen=True, eq=False)
class Seen:
    """What columns see: ways between spaces, the escapes by these, and what stays (n,) then."""

    passages: Passages
    escapes: Escapes
    held_mm: Floats


@dataclass(frozen=True, eq=False)
class Air:
    """The spaces with their escape levels; ``trapped_mm`` (n,) is how much of each never leaves.

    Air leaves by wide ways, that columns have ``seen``, and along the surface by narrow ones.
    ``under_foot`` (n,) are spaces in a hollow of the base that the board shuts.
    """

    spaces: Spaces
    passages: Passages
    escapes: Escapes
    trapped_mm: Floats
    under_foot: Bools
    seen: Seen

    @property
    def trapped_ml(self) -> float:
        """All the air that stays."""
        return self.held_ml(self.trapped_mm)

    @property
    def seen_ml(self) -> float:
        """All that would stay if no air left by ways that are narrower than a column."""
        return self.held_ml(self.seen.held_mm)

    @property
    def under_foot_ml(self) -> float:
        """How much of it is in hollows under the base that the board shuts."""
        return self.held_ml(self.trapped_mm[self.under_foot])

    def held_ml(self, lengths_mm: Floats) -> float:
        """Return what some lengths of columns hold."""
        return float(lengths_mm.sum()) * self.spaces.grid.pitch_mm**2 * ML_PER_MM3


def trapped_air(
    mesh: Mesh, base_faces: Bools, pitch_mm: float, reading: Reading = Reading.LIKELY
) -> Air:
    """Return the air that stays round a master when the rubber rises.

    Parameters
    ----------
    mesh : Mesh
        Closed, upright in the pour.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    pitch_mm : float
        Width of the columns.
    reading : Reading, optional
        Of columns that are in doubt.
    """
    spaces, passages = spaces_and_passages(mesh, base_faces, pitch_mm, reading)
    lowest = float(mesh.vertices[:, 2].min())  # where the board shuts a hollow of the base
    found = escapes(len(spaces.cell), passages)
    under_foot, level_mm, held_mm = _held(spaces, found, lowest)
    seen = Seen(passages, replace(found, level_mm=level_mm), held_mm)
    near = near_held(mesh, spaces, found, held_mm) & ~base_faces
    if not near.any():
        return Air(spaces, passages, seen.escapes, held_mm, under_foot, seen)
    shore = shore_of(mesh, spaces, held_mm > 0.0, near & sure_faces(mesh, spaces, reading))
    found, ways = _creeping(mesh, spaces, seen, shore)
    under_foot, level_mm, trapped_mm = _held(spaces, found, lowest)
    return Air(spaces, ways, replace(found, level_mm=level_mm), trapped_mm, under_foot, seen)


def freely_held_mm(mesh: Mesh, base_faces: Bools, air: Air) -> Floats:
    """Return what stays of each space even if air gets out where surfaces cross or touch.

    Parameters
    ----------
    mesh : Mesh
        That the air was found round.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    air : Air
    """
    seen, spaces = air.seen, air.spaces
    near = near_held(mesh, spaces, seen.escapes, seen.held_mm) & ~base_faces
    if not near.any():
        return air.trapped_mm
    shore = shore_of(mesh, spaces, seen.held_mm > 0.0, near, touching=True)
    found, _ = _creeping(mesh, spaces, seen, shore)
    _, _, held_mm = _held(spaces, found, float(mesh.vertices[:, 2].min()))
    return held_mm


def _creeping(mesh: Mesh, spaces: Spaces, seen: Seen, shore: Shore) -> tuple[Escapes, Passages]:
    """Return the escapes of all spaces when air may creep over some faces as well."""
    held = seen.held_mm > 0.0
    ways = crept(mesh, spaces, seen.passages, held, shore)
    better = escapes(1 + int(np.count_nonzero(held)) + len(shore.faces), ways)
    rank = np.where(held, np.cumsum(held), VENT)
    return Escapes(
        np.where(held, better.level_mm[rank], seen.escapes.level_mm),
        np.where(held, better.gate[rank], NO_GATE),
    ), ways


def _held(spaces: Spaces, found: Escapes, lowest_mm: float) -> tuple[Bools, Floats, Floats]:
    """Return which spaces the board shuts, each one's level, and how much of it never leaves."""
    under_foot = np.isneginf(found.level_mm) & np.isneginf(spaces.floor_mm)
    level_mm = np.where(under_foot, lowest_mm, found.level_mm)
    floor_mm = np.maximum(spaces.floor_mm, level_mm)
    held_mm = np.zeros(len(floor_mm))
    held_mm[1:] = np.maximum(spaces.ceiling_mm[1:] - floor_mm[1:], 0.0)
    return under_foot, level_mm, held_mm


@dataclass(frozen=True, eq=False)
class Listed:
    """The pockets, largest first, the gate of each, and the spaces (k,) that hold its air."""

    pockets: tuple[Pocket, ...]
    gates: tuple[int, ...]
    spaces: tuple[Ints, ...]


def listed(air: Air) -> Listed:
    """Return the pockets of the air; less than `LEAST_POCKET_ML` is only in its sum."""
    inside = np.flatnonzero(air.trapped_mm > 0.0)
    gates, pocket = np.unique(air.escapes.gate[inside], return_inverse=True)
    members = [inside[pocket == number] for number in range(len(gates))]
    large = [k for k, own in enumerate(members) if _volume_ml(air, own) >= LEAST_POCKET_ML]
    large.sort(key=lambda k: -_volume_ml(air, members[k]))
    return Listed(
        tuple(_pocket(air, members[k], int(gates[k])) for k in large),
        tuple(int(gates[k]) for k in large),
        tuple(members[k] for k in large),
    )


def _volume_ml(air: Air, spaces: Ints) -> float:
    return float(air.trapped_mm[spaces].sum()) * air.spaces.grid.pitch_mm**2 * ML_PER_MM3


def _pocket(air: Air, spaces: Ints, gate: int) -> Pocket:
    top = int(spaces[np.argmax(air.spaces.ceiling_mm[spaces])])
    ceiling = float(air.spaces.ceiling_mm[top])
    x, y = air.spaces.middle_mm(top)
    if gate < 0:  # no way out at all: it begins at its own floor
        escape = (x, y, ceiling - float(air.trapped_mm[top]))
    else:
        at = air.passages.at_mm[gate]
        escape = (float(at[0]), float(at[1]), float(air.passages.level_mm[gate]))
    return Pocket(
        _volume_ml(air, spaces),
        ceiling - escape[2],
        float(len(np.unique(air.spaces.cell[spaces]))) * air.spaces.grid.pitch_mm**2 * CM2_PER_MM2,
        (x, y, ceiling),
        escape,
        "underside" if gate >= 0 else "under foot" if air.under_foot[top] else "sealed",
    )
