"""Cases drawn round master and channel, and what a stand in them gives."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM, ROUND_SEGMENTS
from ..geometry.hull import hull_corners
from ..geometry.plan import edge_distances_mm
from .bore import Bore
from .trial import Stand

if TYPE_CHECKING:
    from ..arrays import Floats
    from .footprint import Footprint

_ANGLES = 2.0 * np.pi * np.arange(ROUND_SEGMENTS) / ROUND_SEGMENTS
CIRCLE = np.column_stack([np.cos(_ANGLES), np.sin(_ANGLES)]) / math.cos(math.pi / ROUND_SEGMENTS)
"""Corners of the polygon that touches the unit circle from outside."""

_ROUNDS = 14
_SHRINK = 0.6
_ASIDE = np.linspace(-1.0, 1.0, 9)
_SHIFTS = np.stack(np.meshgrid(_ASIDE, _ASIDE), axis=-1).reshape(-1, 2)


def swept(points: Floats, radius_mm: float) -> Floats:
    """Return the convex outline (k, 2) round discs about points (n, 2), never inside of it.

    Examples
    --------
    >>> outline = swept(np.array([[0.0, 0.0], [40.0, 0.0]]), 10.0)
    >>> [float(size) for size in np.ptp(outline, axis=0).round(3)]
    [60.002, 20.002]
    """
    corners = (points[:, None] + radius_mm * CIRCLE).reshape(-1, 2)
    return hull_corners(corners)


def round_both(rubber: Floats, spot: Floats, radius_mm: float) -> Floats:
    """Return the convex outline round master with its rubber (k, 2), and a channel's disc."""
    return hull_corners(np.vstack([rubber, spot + radius_mm * CIRCLE]))


def stand_in(plan: Footprint, outline: Floats, spot: Floats) -> tuple[Stand, Bore]:
    """Return the stand of a master in a convex outline (k, 2) of its plan, and the bore.

    The axis is the outline's centroid, and the back lies where the channel does.

    Parameters
    ----------
    plan : Footprint
        The master's.
    outline : ndarray, shape (k, 2)
        The inside of the case in the master's plan, counter-clockwise.
    spot : ndarray, shape (2,)
        Where the channel is clear; it is widened from there.
    """
    whole = Bore(outline)
    spot = _widened(plan, whole, spot)
    radius = min(edge_distances_mm(spot[None], plan.edges)[0], whole.distances_mm(spot[None])[0])
    axis = _centroid(outline)
    back = (spot - axis) / max(float(np.linalg.norm(spot - axis)), GROUND_MM)
    turn = np.array([[back[1], -back[0]], back])
    bore = Bore((outline - axis) @ turn.T)
    wall = axis + back * bore.reaches_mm([[0.0, 0.0]], [[0.0, 1.0]])[0]
    least = bore.distances_mm((plan.corners - axis) @ turn.T).min()
    stand = Stand(
        axis=axis,
        back=back,
        channel_at=spot,
        channel_mm=2.0 * (float(radius) - GROUND_MM),
        behind_mm=float(edge_distances_mm(wall[None], plan.edges)[0]),
        least_rubber_mm=float(least),
    )
    return stand, bore


def _widened(plan: Footprint, bore: Bore, spot: Floats) -> Floats:
    """Return the middle of the widest disc near a clear spot.

    No step is longer than the disc is wide, so the way there is clear as well.
    """
    edges = plan.rim.edges
    radius = step = _clear_mm(edges, bore, spot[None])[0]
    for _ in range(_ROUNDS):
        tried = spot + 0.7 * min(step, radius) * _SHIFTS
        clear = _clear_mm(_near(edges, spot, min(step, radius)), bore, tried)
        spot, radius = tried[clear.argmax()], float(clear.max())
        step *= _SHRINK
    return spot


def _near(edges: Floats, spot: Floats, moved_mm: float) -> Floats:
    """Return the edges that may be nearest to a point no farther than that from a spot."""
    off = np.linalg.norm(edges - spot, axis=2)
    half = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1) / 2.0
    near: Floats = edges[off.min(axis=1) - half <= off.min() + 2.0 * moved_mm]
    return near


def _clear_mm(edges: Floats, bore: Bore, points: Floats) -> Floats:
    clear: Floats = np.minimum(edge_distances_mm(points, edges), bore.distances_mm(points))
    return clear


def _centroid(outline: Floats) -> Floats:
    """Return the centre of area of a closed polygon (k, 2)."""
    here = outline - outline[0]
    ahead = np.roll(here, -1, axis=0)
    cross = here[:, 0] * ahead[:, 1] - here[:, 1] * ahead[:, 0]
    middle: Floats = outline[0] + ((here + ahead) * cross[:, None]).sum(axis=0) / (3 * cross.sum())
    return middle
