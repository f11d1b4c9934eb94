"""Trapped air: what stands above the escape level, gathered into pockets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import LEAST_POCKET_ML
from ..geometry.columns import Reading
from ..units import CM2_PER_MM2, ML_PER_MM3
from .escape import Escapes, escapes
from .result import Pocket
from .spaces import Passages, Spaces, spaces_and_passages

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class Air:
    """The spaces with their escape levels; ``trapped_mm`` (n,) is how much of each never leaves.

    ``under_foot`` (n,) are those in a hollow of the base that the board shuts.
    """

    spaces: Spaces
    passages: Passages
    escapes: Escapes
    trapped_mm: Floats
    under_foot: Bools

    @property
    def trapped_ml(self) -> float:
        """All the air that stays."""
        return float(self.trapped_mm.sum()) * self.spaces.grid.pitch_mm**2 * ML_PER_MM3

    @property
    def under_foot_ml(self) -> float:
        """How much of it is in hollows under the base that the board shuts."""
        held_mm = float(self.trapped_mm[self.under_foot].sum())
        return held_mm * self.spaces.grid.pitch_mm**2 * ML_PER_MM3


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
    found = escapes(len(spaces.cell), passages)
    under_foot = np.isneginf(found.level_mm) & np.isneginf(spaces.floor_mm)
    lowest = float(mesh.vertices[:, 2].min())  # where the board shuts such a hollow
    level_mm = np.where(under_foot, lowest, found.level_mm)
    floor_mm = np.maximum(spaces.floor_mm, level_mm)
    trapped_mm = np.zeros(len(floor_mm))
    trapped_mm[1:] = np.maximum(spaces.ceiling_mm[1:] - floor_mm[1:], 0.0)
    return Air(spaces, passages, replace(found, level_mm=level_mm), trapped_mm, under_foot)


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
