"""Air that hangs on ways out narrower than a column: how much, and where."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import (
    LEAST_BOUND_SHARE,
    NARROW_WORTH_ML,
    NARROW_WORTH_SHARE,
    STILL_OPEN_FACTOR,
)
from .flags import trapped_faces
from .pockets import freely_held_mm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh
    from .pockets import Air


@dataclass(frozen=True, eq=False)
class NarrowWays:
    """How far the least that can stay and the most lie apart, for ways narrower than ``width_mm``.

    ``still_open_ml`` is what a finer pitch may change besides. ``largest_ml`` of what lies between
    are in one place, with its top ``at_mm``; None if it is not worth a word. ``behind`` (m,) are
    the faces in all air that columns see no way out for, None again.
    """

    apart_ml: float
    still_open_ml: float
    width_mm: float
    largest_ml: float = 0.0
    at_mm: tuple[float, float, float] | None = None
    behind: Bools | None = None


def narrow_ways(mesh: Mesh, base_faces: Bools, airs: Sequence[Air]) -> NarrowWays:
    """Return what hangs on ways that columns of one pitch or another do not see.

    The least is what stays when air creeps out by every gap, and even where surfaces cross or
    touch; the most, what stays when it leaves by ways that columns see.

    Parameters
    ----------
    mesh : Mesh
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    airs : sequence of Air
        Round the mesh, found at different pitches; the finest first.
    """
    freely = [freely_held_mm(mesh, base_faces, air) for air in airs]
    least = [air.held_ml(held_mm) for air, held_mm in zip(airs, freely, strict=True)]
    chosen = int(np.argmax([air.seen_ml for air in airs]))
    most = airs[chosen]
    largest_ml, at_mm = _largest(most, freely[chosen])
    return NarrowWays(
        apart_ml=max(most.seen_ml - least[0], 0.0),
        still_open_ml=max(STILL_OPEN_FACTOR * float(np.ptp(least)), LEAST_BOUND_SHARE * least[0]),
        width_mm=most.spaces.grid.pitch_mm,
        largest_ml=largest_ml,
        at_mm=at_mm,
        behind=None if at_mm is None else _in_held_air(mesh, most),
    )


def _in_held_air(mesh: Mesh, air: Air) -> Bools:
    """Return the faces that stand in air which no way that columns see lets out."""
    as_seen = replace(air, escapes=air.seen.escapes, trapped_mm=air.seen.held_mm)
    depth_mm, _ = trapped_faces(mesh, as_seen)
    inside: Bools = depth_mm > 0.0
    return inside


def _largest(air: Air, freely_mm: Floats) -> tuple[float, tuple[float, float, float] | None]:
    """Return the most that hangs on narrow ways in one place, and the top of that place."""
    cell_ml = air.held_ml(np.ones(1))
    _, lump = np.unique(air.seen.escapes.gate, return_inverse=True)
    held_ml = np.bincount(lump, air.seen.held_mm) * cell_ml
    apart_ml = np.bincount(lump, air.seen.held_mm - freely_mm) * cell_ml
    worth = np.maximum(NARROW_WORTH_ML, NARROW_WORTH_SHARE * held_ml)
    apart_ml = np.where(apart_ml >= worth, apart_ml, 0.0)
    first = int(np.argmax(apart_ml))
    if apart_ml[first] <= 0.0:
        return 0.0, None
    own = np.flatnonzero((lump == first) & (air.seen.held_mm > 0.0))
    top = int(own[np.argmax(air.spaces.ceiling_mm[own])])
    return float(apart_ml[first]), (*air.spaces.middle_mm(top), float(air.spaces.ceiling_mm[top]))
