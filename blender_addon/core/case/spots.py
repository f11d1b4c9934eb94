"""Where the pour channel could stand beside a master, whatever the case round it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
from scipy.spatial import cKDTree

from ..constants.case import SPOT_SLACK_MM, SPOTS
from ..constants.common import GROUND_MM, ROUND_SEGMENTS
from ..geometry.plan import edge_distances_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from .footprint import Footprint
    from .sector import Sector


_STEPS = 40


def channel_spots(plan: Footprint, radius_mm: float, sector: Sector) -> Floats:
    """Return middles (n, 2) of discs clear of the master, slid in from outside till they meet it.

    They start all round the master's outline and go straight in, into bays too; those of bays that
    narrow gaps join to the outside are added.

    Parameters
    ----------
    plan : Footprint
        The master's.
    radius_mm : float
        Of the discs.
    sector : Sector
        Where the back may lie, seen from the middle of the master.
    """
    radius_mm += SPOT_SLACK_MM
    spots, ways_in = _round_about(plan, radius_mm)
    rim = cKDTree(plan.rim.points)
    gone = np.zeros(len(spots))
    for _ in range(_STEPS):  # a disc may go as far as it is clear, and then looks again
        spare = rim.query(spots)[0] - radius_mm
        step = np.where(gone < 2.0 * plan.radius_mm, np.maximum(spare, 0.0), 0.0)
        spots = spots + step[:, None] * ways_in
        gone += step
    spots = spots[gone < 2.0 * plan.radius_mm]
    bays = plan.rim.bays[plan.rim.bay_mm >= radius_mm]
    spots = np.vstack([spots, bays])
    ways = spots - plan.middle
    far = np.maximum(np.linalg.norm(ways, axis=1), GROUND_MM)
    spots = spots[sector.holds(ways / far[:, None])]
    clear: Floats = spots[edge_distances_mm(spots, plan.rim.edges) >= radius_mm - SPOT_SLACK_MM]
    return clear


def _round_about(plan: Footprint, radius_mm: float) -> tuple[Floats, Floats]:
    """Return points (n, 2) evenly along a parallel to the outline, and their ways straight in."""
    hull = manifold3d.CrossSection([np.array(plan.corners)])
    grown = hull.offset(radius_mm, manifold3d.JoinType.Round, circular_segments=ROUND_SEGMENTS)
    (line,) = grown.to_polygons()
    line = np.vstack([line, line[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    at = np.linspace(0.0, along[-1], SPOTS, endpoint=False)
    points = np.column_stack([np.interp(at, along, line[:, k]) for k in (0, 1)])
    sides = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    ways = np.column_stack([-sides[:, 1], sides[:, 0]])
    return points, ways / np.linalg.norm(ways, axis=1)[:, None]
