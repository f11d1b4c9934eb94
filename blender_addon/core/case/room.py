"""Where the axis of a round case may pass, so that enough rubber is left all round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import AXIS_STEPS

if TYPE_CHECKING:
    from ..arrays import Floats

_ROUNDS = 8
_TURNS = np.linspace(-1.0, 1.0, 9)


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
        """Return the points (..., 2) of the set that lie farthest from the middle, at angles in rad.

        On the ray m + s t from the middle the disc about corner p ends where |m + s t - p| = reach.

        Examples
        --------
        >>> room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
        >>> room.edge(np.array([0.0, np.pi / 2])).round(9).tolist()
        [[2.0, 0.0], [0.0, 4.0]]
        """
        ray = np.stack([np.cos(angles), np.sin(angles)], axis=-1)
        back = self.middle - self.corners
        along = ray @ back.T
        spare = np.maximum(self.reach_mm**2 - np.einsum("ij,ij->i", back, back), 0.0)
        ends = (np.sqrt(along**2 + spare) - along).min(axis=-1)
        edge: Floats = self.middle + np.maximum(ends, 0.0)[..., None] * ray
        return edge

    def farthest(self, ways: Floats, *, exact: bool) -> Floats:
        """Return the point of the set that lies farthest along each of the unit vectors (n, 2).

        Looked for among points of the edge, which all belong to the set; ``exact`` looks on between
        them, so that a result is never outside and short by less than a millionth of the reach.
        """
        angles = 2.0 * np.pi * np.arange(AXIS_STEPS) / AXIS_STEPS
        ring = self.edge(angles)
        best = (ways @ ring.T).argmax(axis=1)
        if not exact:
            return ring[best]
        at, turn = angles[best], angles[1]
        rows = np.arange(len(ways))
        for _ in range(_ROUNDS):
            tried = at[:, None] + turn * _TURNS
            edge = self.edge(tried)
            best = np.einsum("nkd,nd->nk", edge, ways).argmax(axis=1)
            at, turn = tried[rows, best], turn / 4.0
        return self.edge(at)

    def nearest(self, point: Floats) -> Floats:
        """Return the point of the set that lies nearest to one (2,)."""
        if np.linalg.norm(self.corners - point, axis=1).max() <= self.reach_mm:
            return point
        at, turn = 0.0, np.pi
        steps = np.linspace(-1.0, 1.0, AXIS_STEPS + 1)
        for _ in range(_ROUNDS):
            edge = self.edge(at + turn * steps)
            at += turn * steps[np.linalg.norm(edge - point, axis=1).argmin()]
            turn *= 4.0 / AXIS_STEPS
        return self.edge(np.array(at))
