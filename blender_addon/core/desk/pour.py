"""The pour of a layout as it is shown in time: upright or leaned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..rubber.amount import rubber_below_ml
from ..rubber.leaned import STEPS, leaned_pour

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..bubbles.result import Pocket
    from ..geometry.mesh import Mesh
    from ..layout import Layout


@dataclass(frozen=True, eq=False)
class Pour:
    """A pour to show, upright or leaned: ``airs`` with the height at which each is shut in.

    Heights are over the lowest place inside the case, ``turn`` brings the job frame there.
    """

    degrees: float
    towards_deg: float
    turn: Floats
    full_mm: float
    poured_ml: Floats
    trapped_ml: float
    airs: tuple[tuple[Mesh, float], ...]


def pour_of(layout: Layout, degrees: float = 0.0, towards_deg: float = 90.0) -> Pour:
    """Return the pour of a layout.

    Parameters
    ----------
    layout : Layout
    degrees : float
        How far the case leans, 0 for upright.
    towards_deg : float
        Where to, in the job frame, counter-clockwise from +x.
    """
    case, bubbles = layout.case, layout.bubbles
    if degrees <= 0.0:
        table_ml = rubber_below_ml(case, np.linspace(0.0, case.level_z_mm, STEPS + 1))
        meshes = tuple(body.moved(case.placement) for body in bubbles.bodies)
        airs = _airs(meshes, bubbles.pockets)
        return Pour(0.0, 90.0, np.eye(4), case.level_z_mm, table_ml, bubbles.trapped_ml, airs)
    found = leaned_pour(
        case,
        layout.scan.base_faces,
        bubbles.pitch_mm,
        (degrees, towards_deg),
        layout.rubber.volume_ml,
    )
    airs = _airs(found.bodies, found.pockets)
    full_mm = float(found.levels_mm[-1])
    return Pour(degrees, towards_deg, found.turn, full_mm, found.poured_ml, found.trapped_ml, airs)


def _airs(bodies: tuple[Mesh, ...], pockets: tuple[Pocket, ...]) -> tuple[tuple[Mesh, float], ...]:
    pairs = zip(bodies, pockets, strict=False)  # some pockets are told of and have no body
    return tuple((body, pocket.escape_at_mm[2]) for body, pocket in pairs)
