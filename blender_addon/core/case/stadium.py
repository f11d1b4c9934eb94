"""The smallest stadium round a convex outline: two straight sides and two half rounds."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .around import swept
from .sector import unit_vectors

if TYPE_CHECKING:
    from ..arrays import Floats

_TURNS = np.linspace(-1.0, 1.0, 31)
_WIDER = np.linspace(-1.0, 1.0, 13)
_ROUNDS = 6
_FINER = 4.0
_MOST_WIDER = 0.6


def stadium_round(points: Floats, *, exact: bool = False) -> Floats:
    """Return the outline (k, 2) of a small stadium round points (n, 2), never inside of it.

    For each direction of its straight sides and each radius of its ends the points say how long it
    must be; the least area is looked for, once or by ever finer steps.

    Examples
    --------
    >>> box = np.array([[-30.0, -10], [30, -10], [30, 10], [-30, 10]])
    >>> [float(size) for size in np.ptp(stadium_round(box, exact=True), axis=0).round(1)]
    [75.7, 20.6]
    """
    middle, span = np.array([90.0, _MOST_WIDER / 2.0]), np.array([90.0, _MOST_WIDER / 2.0])
    for _ in range(_ROUNDS if exact else 1):
        turns = middle[0] + span[0] * _TURNS
        wider = np.maximum(middle[1] + span[1] * _WIDER, 0.0)
        area, lows, highs, radii = _fits(points, turns, wider)
        turn, wide = np.unravel_index(area.argmin(), area.shape)
        middle = np.array([turns[turn], wider[wide]])
        span = span / _FINER
    along = unit_vectors(turns[turn])
    across = np.array([-along[1], along[0]])
    off = points @ across
    foot = (off.min() + off.max()) / 2.0 * across
    ends = np.stack([lows[turn, wide], highs[turn, wide]])[:, None] * along + foot
    return swept(ends, float(radii[turn, wide]))


def _fits(points: Floats, turns: Floats, wider: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Return area, both ends of the middle line along it, and radius, each (turns, wider)."""
    along = unit_vectors(turns)
    s = along @ points.T
    t = -along[:, 1, None] * points[:, 0] + along[:, 0, None] * points[:, 1]
    half = np.ptp(t, axis=1) / 2.0
    t -= ((t.min(axis=1) + t.max(axis=1)) / 2.0)[:, None]
    radii = half[:, None] * (1.0 + wider)
    reach = np.sqrt(np.maximum(radii[..., None] ** 2 - t[:, None] ** 2, 0.0))
    low, high = (s[:, None] + reach).min(axis=2), (s[:, None] - reach).max(axis=2)
    middle = (low + high) / 2.0
    low, high = np.minimum(low, middle), np.maximum(high, middle)
    area = np.pi * radii**2 + 2.0 * radii * (high - low)
    return area, low, high, radii
