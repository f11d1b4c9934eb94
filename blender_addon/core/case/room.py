"""Where the axis of a round case may pass, so that enough rubber is left all round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import cKDTree

if TYPE_CHECKING:
    from ..arrays import Bools, Floats


@dataclass(frozen=True, eq=False)
class Room:
    """The points no farther than ``reach_mm`` from every corner (h, 2) of the master's outline.

    ``middle`` (2,) is the centre of the smallest circle round the corners. The set is convex: one
    disc about each corner, and what they share.
    """

    corners: Floats
    middle: Floats
    reach_mm: float

    def edge(self, angles: Floats) -> Floats:
        """Return the points (n, 2) of the set that lie farthest from the middle, at angles in rad.

        On the ray m + s t from the middle the disc about corner p ends where |m + s t - p| = reach.

        Examples
        --------
        >>> room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
        >>> room.edge(np.array([0.0, np.pi / 2])).round(9).tolist()
        [[2.0, 0.0], [0.0, 4.0]]
        """
        ray = np.column_stack([np.cos(angles), np.sin(angles)])
        back = self.middle - self.corners
        along = ray @ back.T
        spare = self.reach_mm**2 - np.einsum("ij,ij->i", back, back)
        ends = (np.sqrt(along**2 + np.maximum(spare, 0.0)) - along).min(axis=1)
        edge: Floats = self.middle + np.maximum(ends, 0.0)[:, None] * ray
        return edge

    def holds(self, points: Floats) -> Bools:
        """Return which points (n, 2) belong to the set."""
        x = points[:, 0, None] - self.corners[:, 0]
        y = points[:, 1, None] - self.corners[:, 1]
        holds: Bools = (x * x + y * y).max(axis=1) <= self.reach_mm**2
        return holds

    def nearest(self, points: Floats, steps: int) -> Floats:
        """Return about the nearest point of the set for each of (n, 2); the edge has so many steps."""
        ring = self.edge(2.0 * np.pi * np.arange(steps) / steps)
        near: Floats = ring[cKDTree(ring).query(points)[1]]
        wide = np.linalg.norm(ring - self.middle, axis=1).max()
        close = np.flatnonzero(np.linalg.norm(points - self.middle, axis=1) <= wide)
        close = close[self.holds(points[close])]
        near[close] = points[close]
        return near
