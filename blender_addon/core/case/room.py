"""Where the axis of a round case may pass, so that enough rubber is left all round."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import AXIS_STEPS
from ..constants.common import GROUND_MM

if TYPE_CHECKING:
    from ..arrays import Floats

_ROUNDS = 8


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

        Examples
        --------
        >>> room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
        >>> room.edge(np.array([0.0, np.pi / 2])).round(9).tolist()
        [[2.0, 0.0], [0.0, 4.0]]
        """
        ray, ends = self._rays(angles)
        edge: Floats = self.middle + np.maximum(ends.min(axis=1), 0.0)[:, None] * ray
        return edge

    def farthest(self, ways: Floats) -> Floats:
        """Return the point of the set that lies farthest along each of the unit vectors (n, 2).

        It is a corner of the set, or the point farthest along on one of the circles that bound it.

        Examples
        --------
        >>> room = Room(np.array([[-3.0, 0.0], [3.0, 0.0]]), np.zeros(2), 5.0)
        >>> room.farthest(np.array([[1.0, 0.0], [0.0, -1.0]])).round(9).tolist()
        [[2.0, 0.0], [0.0, -4.0]]
        """
        centers, corners = self._bounds
        last, first = corners - centers, np.roll(corners, 1, axis=0) - centers
        x, y = ways[:, 0, None], ways[:, 1, None]
        on = (first[:, 0] * y >= first[:, 1] * x) & (x * last[:, 1] >= y * last[:, 0])
        top = np.where(on, ways @ centers.T + self.reach_mm, -np.inf)
        circle, corner = top.argmax(axis=1), (ways @ corners.T).argmax(axis=1)
        farthest: Floats = np.where(
            on.any(axis=1)[:, None], centers[circle] + self.reach_mm * ways, corners[corner]
        )
        return farthest

    @cached_property
    def _bounds(self) -> tuple[Floats, Floats]:
        """The middles of the circles that bound the set, in order, and the corners between them."""
        owner = self._rays(2.0 * np.pi * np.arange(AXIS_STEPS) / AXIS_STEPS)[1].argmin(axis=1)
        first = np.sort(np.unique(owner, return_index=True)[1])
        order = owner[first]
        for _ in range(len(self.corners)):
            corners = self._meeting(self.corners[order], np.roll(self.corners[order], -1, axis=0))
            far = np.linalg.norm(corners[:, None] - self.corners, axis=2).max(axis=1)
            missed = np.flatnonzero(far > self.reach_mm + GROUND_MM / 10.0)
            if not len(missed):
                break
            way = corners[missed] - self.middle
            between = self._rays(np.arctan2(way[:, 1], way[:, 0]))[1].argmin(axis=1)
            order = np.insert(order, missed + 1, between)
        return self.corners[order], corners

    def _rays(self, angles: Floats) -> tuple[Floats, Floats]:
        """Return unit vectors (n, 2) and how far along them each disc (n, h) reaches.

        On the ray m + s t from the middle the disc about corner p ends where |m + s t - p| = reach.
        """
        ray = np.column_stack([np.cos(angles), np.sin(angles)])
        back = self.middle - self.corners
        along = ray @ back.T
        spare = np.maximum(self.reach_mm**2 - np.einsum("ij,ij->i", back, back), 0.0)
        return ray, np.sqrt(along**2 + spare) - along

    def _meeting(self, first: Floats, second: Floats) -> Floats:
        """Return where circles about points (n, 2) meet those about the next, on the far side."""
        side = second - first
        length = np.linalg.norm(side, axis=1)[:, None]
        height = np.sqrt(np.maximum(self.reach_mm**2 - length**2 / 4.0, 0.0))
        meeting: Floats = (first + second) / 2.0 + height * side[:, ::-1] * [-1.0, 1.0] / length
        return meeting

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
        nearest: Floats = self.edge(np.array([at]))[0]
        return nearest
