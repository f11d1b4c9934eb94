"""Convex outline of points in plan, and the smallest circle round them."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import ConvexHull, QhullError

from ..constants.common import GROUND_MM
from ..errors import UnusableMeshError

if TYPE_CHECKING:
    from ..arrays import Floats


def hull_corners(points: Floats) -> Floats:
    """Return the corners of the convex outline of points (n, 2), counter-clockwise, shape (h, 2).

    Raises
    ------
    UnusableMeshError
        If they lie on one line, or there are fewer than three.

    Examples
    --------
    >>> square = np.array([[0, 0], [1, 0], [1, 1], [0, 1], [0.5, 0.5]])
    >>> len(hull_corners(square))
    4
    """
    try:
        corners: Floats = points[ConvexHull(points).vertices]
    except (QhullError, ValueError) as error:  # a ValueError says that there are no points at all
        message = "The piece has no width seen from above. Check its scale and which way is up."
        raise UnusableMeshError(message) from error
    return corners


def smallest_circle(points: Floats) -> tuple[Floats, float]:
    """Return centre (2,) and radius of the smallest circle round points (n, 2), in mm.

    The farthest point joins those that hold the circle until none lies outside: the radius grows
    with each, so it ends.

    References
    ----------
    .. [1] Welzl: Smallest enclosing disks (balls and ellipsoids), LNCS 555, 1991.

    Examples
    --------
    >>> centre, radius = smallest_circle(np.array([[0.0, 0.0], [6.0, 0.0], [6.0, 8.0], [3.0, 1.0]]))
    >>> [float(x) for x in centre], radius
    ([3.0, 4.0], 5.0)
    """
    held, centre, radius = points[:1], points[0], 0.0
    while True:
        far = np.linalg.norm(points - centre, axis=1)
        worst = int(far.argmax())
        grown = _circle_of_few(np.vstack([held, points[worst]]))
        if grown[1] <= radius:
            return centre, float(far[worst])
        centre, radius, held = grown


def _circle_of_few(points: Floats) -> tuple[Floats, float, Floats]:
    """Return the smallest circle round at most four points, and the two or three that hold it."""
    best = points.mean(axis=0), np.inf, points
    for count in (2, 3):
        for chosen in itertools.combinations(range(len(points)), count):
            held = points[list(chosen)]
            centre = _through(held)
            radius = float(np.linalg.norm(held - centre, axis=1).max())
            slack = GROUND_MM * 1e-3 * max(1.0, radius)
            holds = np.linalg.norm(points - centre, axis=1).max() <= radius + slack
            if holds and radius < best[1]:
                best = centre, radius, held
    return best


def _through(held: Floats) -> Floats:
    """Return the middle of two points, or the centre of the circle through three."""
    if len(held) == 2:
        middle: Floats = held.mean(axis=0)
        return middle
    sides = held[1:] - held[0]
    if abs(np.linalg.det(sides)) < GROUND_MM**2:
        return np.full(2, np.inf)
    centre: Floats = held[0] + np.linalg.solve(sides, (sides**2).sum(axis=1) / 2.0)
    return centre
