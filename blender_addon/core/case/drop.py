"""Clear drops: vertical discs that touch neither the master, at any height, nor the bore."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import cKDTree

from ..constants import BACK_SEEDS, BACK_STEP_DEG, GROUND_MM
from ..geometry.plan import edge_distances_mm
from ..geometry.tangent import tangent_radii_at_points_mm, tangent_radii_mm
from .sector import unit_vectors

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Floats
    from .bore import Bore, Stand
    from .sector import Sector

_ROUNDS = 9
_TURNS = np.linspace(-1.0, 1.0, 13)
_SHIFTS = np.linspace(0.0, 1.0, 65)


def at_wall(bore: Bore, sector: Sector, *, strict: bool) -> Iterator[Stand]:
    """Yield the stands whose drops touch the bore and are wider than those a little to both sides.

    ``strict`` starts only where the rubber at the cut suffices already.
    """
    degrees = sector.degrees()
    ways = unit_vectors(degrees)
    walls = bore.room.farthest(ways) + bore.radius_mm * ways
    radii = tangent_radii_at_points_mm(walls, ways, bore.plan.rim.points)
    behind = cKDTree(bore.plan.rim.points).query(walls)[0]
    slack_mm = 0.0 if strict else 2.0 * bore.radius_mm * np.radians(BACK_STEP_DEG)
    radii[behind < bore.settings.cut_rubber_mm - slack_mm] = 0.0
    before, after = np.roll(radii, 1), np.roll(radii, -1)
    if sector.half_deg < 180.0:
        before[0] = after[-1] = 0.0
    peaks = np.flatnonzero((radii >= before) & (radii >= after) & (radii > 0.0))
    for peak in peaks[np.argsort(-radii[peaks], kind="stable")][:BACK_SEEDS]:
        yield _turned(bore, sector, float(degrees[peak]))


def _turned(bore: Bore, sector: Sector, degrees: float) -> Stand:
    """Return the best stand with the back within a step of a direction, by ever finer turns."""
    turn = BACK_STEP_DEG
    near = _edges_near(bore, degrees)
    for _ in range(_ROUNDS):
        tried = sector.inside(degrees + turn * _TURNS)
        ways = unit_vectors(tried)
        walls = bore.room.farthest(ways) + bore.radius_mm * ways
        missing = edge_distances_mm(walls, near) - bore.settings.cut_rubber_mm
        radii = tangent_radii_mm(walls, ways, near)
        degrees = float(tried[np.where(missing < 0.0, missing, radii).argmax()])
        turn /= 4.0
    way = unit_vectors([degrees])
    axis = bore.room.farthest(way)
    wall = axis + bore.radius_mm * way
    radius = tangent_radii_mm(wall, way, bore.plan.edges)
    return bore.stand(axis[0], way[0], (wall - radius * way)[0])


def _edges_near(bore: Bore, degrees: float) -> Floats:
    """Return the rim's edges that a drop or the line at the back may meet within a step."""
    way = unit_vectors([degrees])
    wall = bore.room.farthest(way) + bore.radius_mm * way
    edges = bore.plan.rim.edges
    radius = tangent_radii_mm(wall, way, edges)
    half = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1) / 2.0
    moved = 4.0 * bore.radius_mm * np.radians(BACK_STEP_DEG)
    chosen = np.zeros(len(edges), dtype=bool)
    reaches = (1.5 * radius, edge_distances_mm(wall, edges))
    for spot, reach in zip((wall - radius * way, wall), reaches, strict=True):
        off = np.linalg.norm(edges - spot, axis=2).min(axis=1) - half
        chosen |= off <= reach + moved
    return edges[chosen]


def in_bays(bore: Bore, sector: Sector) -> Iterator[Stand]:
    """Yield the stands whose drops lie in a bay and would fit though the bore were wider.

    What room is left goes to the rubber: the axis passes as near to the middle as it may.
    """
    rim = bore.plan.rim
    for at, radius in zip(rim.bays, rim.bay_mm, strict=True):
        first = bore.room.nearest(at)
        axes = first + _SHIFTS[:, None] * (bore.room.middle - first)
        ways = at - axes
        far = np.linalg.norm(ways, axis=1)
        out = _way_out(bore, sector, at)
        backs = np.where(far[:, None] > GROUND_MM, ways / np.maximum(far, GROUND_MM)[:, None], out)
        behind = edge_distances_mm(axes + bore.radius_mm * backs, rim.edges)
        good = (far <= bore.radius_mm - radius) & sector.holds(backs)
        good &= behind >= bore.settings.cut_rubber_mm
        if good.any():
            best = int(np.flatnonzero(good)[-1])
            yield bore.stand(axes[best], backs[best], at)


def _way_out(bore: Bore, sector: Sector, at: Floats) -> Floats:
    """Return the way out from a drop in which the master is farthest from the bore."""
    ways = unit_vectors(sector.degrees())
    off = edge_distances_mm(at + bore.radius_mm * ways, bore.plan.rim.edges)
    way: Floats = ways[off.argmax()]
    return way
