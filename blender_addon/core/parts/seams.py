"""Where the case comes apart: upright seams, each along a line outward through its wall."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.parts import SEAM_FLAT_MM, SEAM_STEP_DEG, SEAM_TURN_DEG
from .outlines import grown, way_out_mm
from .rounds import rectangle

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats

FAR_MM = 1e4
"""Beyond any case: 3 m is the tallest master. Ours."""


@dataclass(frozen=True, eq=False)
class Seam:
    """A seam in plan: where it leaves the bore, which way is out, and how thick the wall is there.

    Its own frame has x outward from the bore's line and y counter-clockwise round the case.
    """

    at: Floats
    out: Floats
    wall_mm: float

    @property
    def matrix(self) -> Floats:
        """From the seam's own frame to the job frame, shape (2, 3)."""
        (x, y), (left, ahead) = self.out, self.at
        return np.array([[x, -y, left], [y, x, ahead]])

    def placed(self, section: manifold3d.CrossSection) -> manifold3d.CrossSection:
        """Return a section drawn in the seam's frame where it belongs in the job frame."""
        return section.transform(self.matrix)

    def stood(self, solid: manifold3d.Manifold) -> manifold3d.Manifold:
        """Return a solid made in the seam's frame, z up, where it belongs in the job frame."""
        (a, b, left), (c, d, ahead) = self.matrix
        turned = [[a, b, 0.0, left], [c, d, 0.0, ahead], [0.0, 0.0, 1.0, 0.0]]
        return solid.transform(np.array(turned))

    def side(self, sign: float) -> manifold3d.CrossSection:
        """Return the half of the plan that lies counter-clockwise (+1) or clockwise (-1) of it."""
        low, high = sorted((0.0, sign * FAR_MM))
        return self.placed(rectangle((-FAR_MM, low), (FAR_MM, high)))


def seams_of(bore: Floats, wall_mm: float, count: int) -> tuple[Seam, ...]:
    """Return the seams of a case, counter-clockwise; the first begins the piece at the back.

    Parameters
    ----------
    bore : ndarray, shape (k, 2)
        The inside of the case: convex, counter-clockwise, the axis inside it, the back at +y.
    wall_mm : float
    count : int
        Even; the back (+y) lies in the middle between two of them. Two seams lie on one line that
        meets the wall squarely on both sides, so that each half comes off straight.
    """
    outer = grown(bore, wall_mm)
    if count == 2:
        left, right = _square_chord(bore)
        out = (right - left) / np.linalg.norm(right - left)
        ends = [(right, out), (left, -out)]
    else:
        first = math.pi / 2.0 - math.pi / count
        angles = first + 2.0 * math.pi / count * np.arange(count)
        ways = np.column_stack([np.cos(angles), np.sin(angles)])
        ends = [(way * way_out_mm(bore, np.zeros(2), way), way) for way in ways]
    return tuple(Seam(at, out, way_out_mm(outer, at, out)) for at, out in ends)


def _square_chord(bore: Floats) -> tuple[Floats, Floats]:
    """Return the ends, left and right, of a chord that meets the wall squarely at both.

    Of all directions, the one nearest to x whose outermost points lie on a line along it. Squarely
    to a flat side only its own normal is, which the steps of the others would miss.
    """
    sides = np.roll(bore, -1, axis=0) - bore
    flat = sides[np.hypot(*sides.T) >= SEAM_FLAT_MM]
    normals = (np.arctan2(-flat[:, 0], flat[:, 1]) + np.pi / 2.0) % np.pi - np.pi / 2.0
    turns = np.concatenate([np.radians(np.arange(-90.0, 90.0, SEAM_STEP_DEG)), normals])
    chords = np.array([_farthest(bore, turn) for turn in turns])
    along = chords[:, 1] - chords[:, 0]
    skew = np.arctan2(along[:, 1], along[:, 0]) - turns
    off = np.abs(np.arctan2(np.sin(skew), np.cos(skew)))
    square = off <= max(math.radians(SEAM_TURN_DEG), float(off.min()))
    best = np.flatnonzero(square)[np.argmin(np.abs(turns[square]))]
    return chords[best, 0], chords[best, 1]


def _farthest(bore: Floats, turn: float) -> tuple[Floats, Floats]:
    """Return the outermost points against and along a direction.

    On flat sides they are where they face each other, or nearly.
    """
    way = np.array([math.cos(turn), math.sin(turn)])
    reach, aside = bore @ way, bore @ np.array([-way[1], way[0]])
    slack = 1e-9 * float(np.ptp(reach))
    left, right = aside[reach <= reach.min() + slack], aside[reach >= reach.max() - slack]
    low, high = max(left.min(), right.min()), min(left.max(), right.max())
    middle = (low + high) / 2.0  # between the two where they do not face each other
    ends = []
    for far, sides in ((reach.min(), left), (reach.max(), right)):
        at = float(np.clip(middle, sides.min(), sides.max()))
        ends.append(far * way + at * np.array([-way[1], way[0]]))
    return ends[0], ends[1]
