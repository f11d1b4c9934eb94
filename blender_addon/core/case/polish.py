"""Drops where the rubber at the cut is short: the axis then need not go to the end of its room."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..geometry.plan import edge_distances_mm
from ..geometry.tangent import tangent_radii_mm
from .sector import unit_vectors

if TYPE_CHECKING:
    from ..arrays import Floats
    from .sector import Sector
    from .trial import Stand, Trial

_ROUNDS = 8
_FINER = 3.0
_STEPS = np.linspace(-1.0, 1.0, 21)
_TURNS = np.stack(np.meshgrid(_STEPS, _STEPS), axis=-1).reshape(-1, 2)
_FIRST_DEG = np.array([8.0, 45.0])
"""How far to turn the back, and the axis about the middle of its room."""


def polished(trial: Trial, sector: Sector, start: Stand) -> Stand:
    """Return the widest drop near a stand that leaves the rubber asked for at the cut.

    The axis goes along the border of its room while the back turns, both by ever less. A stand that
    lacks rubber at the cut counts by how much it lacks, so the search leads into what is allowed.

    Parameters
    ----------
    trial : Trial
        The bore and the master in it.
    sector : Sector
        Where the back may lie.
    start : Stand
        Where to begin.
    """
    edges = trial.plan.rim.edges
    from_middle = start.axis - trial.room.middle
    best = np.degrees(np.arctan2(*np.stack([start.back, from_middle], axis=1)[::-1]))
    span = _FIRST_DEG
    for _ in range(_ROUNDS):
        tried = best + span * _TURNS
        tried[:, 0] = sector.inside(tried[:, 0])
        best = tried[_worth(trial, tried, edges).argmax()]
        span = span / _FINER
    way, axis = unit_vectors(best[:1]), trial.room.edge(np.radians(best[1:]))
    wall = axis + trial.radius_mm * way
    radius = tangent_radii_mm(wall, way, trial.plan.edges)
    return trial.stand(axis[0], way[0], (wall - radius * way)[0])


def _worth(trial: Trial, tried: Floats, edges: Floats) -> Floats:
    """Return the radius of the drop at the wall, or what is lacking as a negative number, (n,)."""
    ways, axes = unit_vectors(tried[:, 0]), trial.room.edge(np.radians(tried[:, 1]))
    walls = axes + trial.radius_mm * ways
    missing = edge_distances_mm(walls, edges) - trial.settings.cut_rubber_mm
    worth: Floats = np.where(missing < 0.0, missing, tangent_radii_mm(walls, ways, edges))
    return worth
