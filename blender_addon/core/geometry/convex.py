"""Convex outlines in plan: cut by a line, rounded, and moved outward side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.common import ROUND_SEGMENTS
from ..constants.geometry import SHORT_SIDE_MM
from .hull import hull_corners
from .manifold import first_outline

if TYPE_CHECKING:
    from ..arrays import Floats


SIDES = ROUND_SEGMENTS // 4
"""Of a rounded corner, were it a whole circle."""


def clipped(outline: Floats, normal: Floats, limit_mm: float) -> Floats:
    """Return the part of a convex outline (k, 2) whose points p have ``normal . p <= limit_mm``.

    Nothing is left, shape (0, 2), where all of it lies beyond.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]])
    >>> clipped(square, np.array([1.0, 0.0]), 3.0).tolist()
    [[0.0, 0.0], [3.0, 0.0], [3.0, 4.0], [0.0, 4.0]]
    """
    over = outline @ normal - limit_mm
    after, after_over = np.roll(outline, -1, axis=0), np.roll(over, -1)
    crosses = (over > 0.0) != (after_over > 0.0)
    share = np.where(crosses, over / np.where(crosses, over - after_over, 1.0), 0.0)
    met = outline + share[:, None] * (after - outline)
    both = np.stack([outline, met], axis=1).reshape(-1, 2)
    kept: Floats = both[np.stack([over <= 0.0, crosses], axis=1).ravel()]
    return kept


def cleaned(outline: Floats) -> Floats:
    """Return a convex outline (k, 2), counter-clockwise, without points that say nothing.

    Sides shorter than `SHORT_SIDE_MM` have no direction that can be trusted: their points are left
    out, and what bends inward by rounding.

    Examples
    --------
    >>> cleaned(np.array([[0, 0], [9, 0], [9, 1e-9], [9, 9], [4, 9 - 1e-9], [0, 9]])).tolist()
    [[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]]
    """
    corners = hull_corners(np.asarray(outline, dtype=np.float64))
    kept = [corners[0]]
    for corner in corners[1:]:
        if np.hypot(*(corner - kept[-1])) >= SHORT_SIDE_MM:
            kept.append(corner)
    if np.hypot(*(kept[-1] - kept[0])) < SHORT_SIDE_MM:
        kept.pop()
    clean = np.array(kept)
    first = int(np.lexsort((clean[:, 0], clean[:, 1]))[0])
    rolled: Floats = np.roll(clean, -first, axis=0)
    return rolled


def rounded(outline: Floats, inset_mm: float, corner_mm: float) -> Floats:
    """Return a convex outline moved inward, its corners rounded; (0, 2) where nothing is left.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]])
    >>> soft = rounded(square, 5.0, 10.0)
    >>> soft.min(axis=0).round(6).tolist(), bool((soft.sum(axis=1) > 15.0).all())
    ([5.0, 5.0], True)
    """
    section = manifold3d.CrossSection([np.array(outline)])
    eroded = section.offset(-inset_mm - corner_mm, manifold3d.JoinType.Miter)
    grown = eroded.offset(corner_mm, manifold3d.JoinType.Round, circular_segments=SIDES)
    outline = first_outline(grown)
    return cleaned(outline) if len(outline) else outline


def area_mm2(outline: Floats) -> float:
    """Return the area inside an outline (k, 2), counter-clockwise, by the shoelace formula."""
    x, y = (outline - outline[:1]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def centroid_mm(outline: Floats) -> tuple[float, float]:
    """Return the middle of the area inside an outline (k, 2).

    Examples
    --------
    >>> centroid_mm(np.array([[0.0, 0.0], [3.0, 0.0], [0.0, 6.0]]))
    (1.0, 2.0)
    """
    start = outline - outline[0]
    end = np.roll(start, -1, axis=0)
    cross = start[:, 0] * end[:, 1] - end[:, 0] * start[:, 1]
    x, y = outline[0] + ((start + end) * cross[:, None]).sum(axis=0) / (3.0 * cross.sum())
    return float(x), float(y)


@dataclass(frozen=True, eq=False)
class Spread:
    """A convex outline (k, 2) whose sides move outward: corners go along ``ways`` (k, 2).

    Moved by d, each side lies d mm further out, along itself; area grows by a square of d.

    Examples
    --------
    >>> square = spread_of(np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]]))
    >>> square.ring(1.0).tolist(), square.area_mm2(1.0)
    ([[-1.0, -1.0], [5.0, -1.0], [5.0, 5.0], [-1.0, 5.0]], 36.0)
    """

    outline_mm: Floats
    ways: Floats

    def ring(self, by_mm: float) -> Floats:
        """Return the outline moved outward."""
        moved: Floats = self.outline_mm + by_mm * self.ways
        return moved

    @property
    def growth(self) -> tuple[float, float, float]:
        """Area as a polynomial of d: for each power of it, from 0 to 2, its factor."""
        still = area_mm2(self.outline_mm)
        out, back = area_mm2(self.ring(1.0)), area_mm2(self.ring(-1.0))
        return still, (out - back) / 2.0, (out + back) / 2.0 - still

    def area_mm2(self, by_mm: float) -> float:
        """Return the area when moved outward."""
        still, girth, turn = self.growth
        return still + girth * by_mm + turn * by_mm**2


def spread_of(outline: Floats) -> Spread:
    """Return how a convex outline, counter-clockwise, spreads; points on a side move with it."""
    before = outline - np.roll(outline, 1, axis=0)
    before = before / np.linalg.norm(before, axis=1)[:, None]
    normals = np.column_stack([before[:, 1], -before[:, 0]])
    after = np.roll(normals, -1, axis=0)
    ways = (normals + after) / (1.0 + np.einsum("ij,ij->i", normals, after))[:, None]
    return Spread(outline, ways)
