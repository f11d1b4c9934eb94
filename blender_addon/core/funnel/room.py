"""Where the stream may fall: a convex room at the wall that the master enters at no height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..geometry.convex import clipped

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult


def throat_room(case: CaseResult, clearance_mm: float, widest_mm: float) -> tuple[Floats, Floats]:
    """Return a convex outline (k, 2) round the channel, and the way from there to the wall (2,).

    It goes out to the wall and holds the channel's whole disc, or one as wide as it may be; beside
    that it keeps its clearance from the shadow of the whole master. It is grown from the channel's
    middle: the nearest part of the shadow cuts it off by a line square to the way there, then the
    nearest part that is still on this side of all lines, and so on.

    Parameters
    ----------
    case : CaseResult
        Bore, master and channel.
    clearance_mm : float
        From the master, where the channel is no narrower than that.
    widest_mm : float
        Most that it measures along the wall and away from it.
    """
    way = way_to_wall(case)
    across, half = np.array([-way[1], way[0]]), widest_mm / 2.0
    radius = case.channel_mm / 2.0
    at, clear = np.asarray(case.channel_at_mm) + way * max(radius - half, 0.0), min(radius, half)
    outline: Floats = case.bore.outline_mm
    for normal in (across, -across, -way):
        outline = clipped(outline, normal, float(normal @ at) + half)
    after = np.roll(outline, -1, axis=0) - outline
    ends = case.shadow
    for normal in np.column_stack([after[:, 1], -after[:, 0]]):
        unit = normal / np.linalg.norm(normal)
        ends = _this_side(ends, unit, float((outline @ unit).max()) + clearance_mm)
    while len(ends):
        off = _nearest(ends, at)
        far = np.linalg.norm(off, axis=1)
        normal, least = off[far.argmin()] / far.min(), float(far.min())
        limit = max(least - clearance_mm, clear)
        outline = clipped(outline, normal, float(normal @ at) + limit)
        ends = _this_side(ends, normal, float(normal @ at) + least)
    deepest = max(widest_mm - float((outline @ way).max()), clear - float(way @ at))
    return clipped(outline, -way, deepest), way


def _this_side(ends: Floats, normal: Floats, limit_mm: float) -> Floats:
    """Return the segments (k, 2, 2) that do not lie wholly beyond a line."""
    return ends[(ends @ normal < limit_mm - GROUND_MM).any(axis=1)]


def _nearest(ends: Floats, at: Floats) -> Floats:
    """Return the way from a point to the nearest point of each segment (k, 2, 2), shape (k, 2)."""
    start, along = ends[:, 0] - at, ends[:, 1] - ends[:, 0]
    length2 = np.maximum(np.einsum("ij,ij->i", along, along), GROUND_MM**2)
    share = np.clip(-np.einsum("ij,ij->i", start, along) / length2, 0.0, 1.0)
    off: Floats = start + share[:, None] * along
    return off


def way_to_wall(case: CaseResult) -> Floats:
    """Return the unit vector (2,) from the channel's middle straight to the wall."""
    at = np.asarray(case.channel_at_mm)
    away = float(np.linalg.norm(at))
    if case.bore.is_round:
        return at / away if away > GROUND_MM else np.array([0.0, 1.0])
    outline = case.bore.outline_mm
    along = np.roll(outline, -1, axis=0) - outline
    length = np.linalg.norm(along, axis=1)
    real = length > GROUND_MM
    normals = np.column_stack([along[:, 1], -along[:, 0]])[real] / length[real, None]
    way: Floats = normals[np.einsum("ij,ij->i", normals, outline[real] - at).argmin()]
    return way
