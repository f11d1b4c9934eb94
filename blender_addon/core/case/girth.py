"""Places on the wall of a case by how far round it they lie."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats
    from .bore import Bore


def around_mm(bore: Bore, points: Floats) -> Floats:
    """Return how far round from the front points (n, 2) on the wall lie, counter-clockwise.

    Examples
    --------
    >>> from blender_addon.core.case.bore import Bore, round_bore
    >>> spots = np.array([[0.0, -50.0], [50.0, 0.0], [0.0, 50.0]])
    >>> (around_mm(round_bore(100.0), spots) / np.pi).round(6).tolist()
    [0.0, 25.0, 50.0]
    >>> oblong = Bore([[-30, -20], [30, -20], [30, 20], [-30, 20]])
    >>> around_mm(oblong, np.array([[0.0, -20.0], [30.0, 0.0]])).tolist()
    [0.0, 50.0]
    """
    if bore.is_round:
        angle = np.mod(np.arctan2(points[:, 1], points[:, 0]) + math.pi / 2.0, 2.0 * math.pi)
        along: Floats = angle * bore.girth_mm / (2.0 * math.pi)
        return along
    front = bore.reaches_mm(np.zeros((1, 2)), np.array([[0.0, -1.0]]))
    start = _along_outline(bore, np.array([[0.0, -float(front[0])]]))
    return np.mod(_along_outline(bore, points) - start, bore.girth_mm)


def _along_outline(bore: Bore, points: Floats) -> Floats:
    corners = bore.outline_mm
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.linalg.norm(sides, axis=1)
    before = np.append(0.0, np.cumsum(lengths)[:-1])
    off = points[:, None] - corners[None]
    share = np.einsum("nkj,kj->nk", off, sides) / np.maximum(lengths**2, np.finfo(float).tiny)
    share = np.clip(share, 0.0, 1.0)
    near = np.linalg.norm(off - share[..., None] * sides, axis=2).argmin(axis=1)
    rows = np.arange(len(points))
    found: Floats = before[near] + share[rows, near] * lengths[near]
    return found


def places_mm(bore: Bore, around: Floats, out_mm: Floats) -> Floats:
    """Return the points (n, 2) so far round from the front and so far outside of the wall.

    Parameters
    ----------
    bore : Bore
        Without sides that have no length.
    around : ndarray, shape (n,)
        As `around_mm`, but any number of times round.
    out_mm : ndarray, shape (n,)
        Square to the wall; of an outline along the way between those of a side's two corners, so
        that what is built on it has no steps at corners.

    Examples
    --------
    >>> from blender_addon.core.case.bore import Bore
    >>> oblong = Bore([[-30, -20], [30, -20], [30, 20], [-30, 20]])
    >>> places_mm(oblong, np.array([10.0, 50.0, -50.0]), np.array([0.0, 2.0, 1.0])).tolist()
    [[10.0, -20.0], [32.0, 0.0], [-31.0, 0.0]]
    """
    if bore.is_round:
        angle = around / bore.radius_mm - math.pi / 2.0
        reach = bore.radius_mm + out_mm
        return np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])
    front = bore.reaches_mm(np.zeros((1, 2)), np.array([[0.0, -1.0]]))
    start = _along_outline(bore, np.array([[0.0, -float(front[0])]]))
    corners = bore.outline_mm
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.linalg.norm(sides, axis=1)
    ends = np.cumsum(lengths)
    along = np.mod(around + start, ends[-1])
    side = np.minimum(np.searchsorted(ends, along, side="right"), len(ends) - 1)
    share = (along - (ends - lengths)[side]) / lengths[side]
    normals = np.column_stack([sides[:, 1], -sides[:, 0]]) / lengths[:, None]
    before = np.roll(normals, 1, axis=0)
    corner_ways = (normals + before) / (1.0 + np.einsum("ij,ij->i", normals, before))[:, None]
    low, high = side, (side + 1) % len(corners)
    way = corner_ways[low] + share[:, None] * (corner_ways[high] - corner_ways[low])
    places: Floats = corners[low] + share[:, None] * sides[low] + out_mm[:, None] * way
    return places
