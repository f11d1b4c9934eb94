"""Clear drops: vertical discs that touch neither the master, at any height, nor the bore."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import cKDTree

from ..constants.case import BACK_SEEDS, BACK_STEP_DEG
from ..constants.common import GROUND_MM
from ..geometry.plan import edge_distances_mm
from ..geometry.tangent import tangent_radii_at_points_mm, tangent_radii_mm
from .sector import unit_vectors

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Floats
    from .sector import Sector
    from .trial import Stand, Trial

_ROUNDS = 9
_TURNS = np.linspace(-1.0, 1.0, 13)
_SHIFTS = np.linspace(0.0, 1.0, 65)


def at_wall(trial: Trial, sector: Sector, *, strict: bool) -> Iterator[Stand]:
    """Yield the stands whose drops touch the bore and are wider than those a little to both sides.

    ``strict`` starts only where the rubber at the cut suffices already.
    """
    degrees = sector.degrees()
    ways = unit_vectors(degrees)
    walls = trial.room.farthest(ways) + trial.radius_mm * ways
    radii = tangent_radii_at_points_mm(walls, ways, trial.plan.rim.points)
    behind = cKDTree(trial.plan.rim.points).query(walls)[0]
    slack_mm = 0.0 if strict else 2.0 * trial.radius_mm * np.radians(BACK_STEP_DEG)
    radii[behind < trial.settings.cut_rubber_mm - slack_mm] = 0.0
    before, after = np.roll(radii, 1), np.roll(radii, -1)
    if sector.half_deg < 180.0:
        before[0] = after[-1] = 0.0
    peaks = np.flatnonzero((radii >= before) & (radii >= after) & (radii > 0.0))
    for peak in peaks[np.argsort(-radii[peaks], kind="stable")][:BACK_SEEDS]:
        yield _turned(trial, sector, float(degrees[peak]))


def _turned(trial: Trial, sector: Sector, degrees: float) -> Stand:
    """Return the best stand with the back within a step of a direction, by ever finer turns."""
    turn = BACK_STEP_DEG
    near = _edges_near(trial, degrees)
    for _ in range(_ROUNDS):
        tried = sector.inside(degrees + turn * _TURNS)
        ways = unit_vectors(tried)
        walls = trial.room.farthest(ways) + trial.radius_mm * ways
        missing = edge_distances_mm(walls, near) - trial.settings.cut_rubber_mm
        radii = tangent_radii_mm(walls, ways, near)
        degrees = float(tried[np.where(missing < 0.0, missing, radii).argmax()])
        turn /= 4.0
    way = unit_vectors([degrees])
    axis = trial.room.farthest(way)
    wall = axis + trial.radius_mm * way
    radius = tangent_radii_mm(wall, way, trial.plan.edges)
    return trial.stand(axis[0], way[0], (wall - radius * way)[0])


def _edges_near(trial: Trial, degrees: float) -> Floats:
    """Return the rim's edges that a drop or the line at the back may meet within a step."""
    way = unit_vectors([degrees])
    wall = trial.room.farthest(way) + trial.radius_mm * way
    edges = trial.plan.rim.edges
    radius = tangent_radii_mm(wall, way, edges)
    half = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1) / 2.0
    moved = 4.0 * trial.radius_mm * np.radians(BACK_STEP_DEG)
    chosen = np.zeros(len(edges), dtype=bool)
    reaches = (1.5 * radius, edge_distances_mm(wall, edges))
    for spot, reach in zip((wall - radius * way, wall), reaches, strict=True):
        off = np.linalg.norm(edges - spot, axis=2).min(axis=1) - half
        chosen |= off <= reach + moved
    return edges[chosen]


def in_bays(trial: Trial, sector: Sector) -> Iterator[Stand]:
    """Yield the stands whose drops lie in a bay and would fit though the bore were wider.

    What room is left goes to the rubber: the axis passes as near to the middle as it may.
    """
    rim = trial.plan.rim
    for at, radius in zip(rim.bays, rim.bay_mm, strict=True):
        first = trial.room.nearest(at)
        axes = first + _SHIFTS[:, None] * (trial.room.middle - first)
        ways = at - axes
        far = np.linalg.norm(ways, axis=1)
        out = _way_out(trial, sector, at)
        backs = np.where(far[:, None] > GROUND_MM, ways / np.maximum(far, GROUND_MM)[:, None], out)
        behind = edge_distances_mm(axes + trial.radius_mm * backs, rim.edges)
        good = (far <= trial.radius_mm - radius) & sector.holds(backs)
        good &= behind >= trial.settings.cut_rubber_mm
        if good.any():
            best = int(np.flatnonzero(good)[-1])
            yield trial.stand(axes[best], backs[best], at)


def _way_out(trial: Trial, sector: Sector, at: Floats) -> Floats:
    """Return the way out from a drop in which the master is farthest from the bore."""
    ways = unit_vectors(sector.degrees())
    off = edge_distances_mm(at + trial.radius_mm * ways, trial.plan.rim.edges)
    way: Floats = ways[off.argmax()]
    return way
