"""The case that follows the master's outline, bulged at the back for the channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import CONTOUR_STEPS
from .around import round_both
from .sector import unit_vectors

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Floats


def contours(rubber: Floats, spots: Floats, radius_mm: float) -> Iterator[tuple[Floats, Floats]]:
    """Yield the outlines that hold least, best first, each with its channel's middle (2,).

    Convex outlines hold little more than what they go round; the area of each comes from the
    outline's reach in all directions.

    Parameters
    ----------
    rubber : ndarray, shape (k, 2)
        Convex outline of the master with its rubber.
    spots : ndarray, shape (n, 2)
        Where the channel could stand.
    radius_mm : float
        Of the channel.

    References
    ----------
    .. [1] Schneider: Convex Bodies, 2nd ed. 2014, section 1.7 (area by the support function).
    """
    ways = unit_vectors(np.arange(CONTOUR_STEPS) * 360.0 / CONTOUR_STEPS)
    reach = np.maximum((rubber @ ways.T).max(axis=0), spots @ ways.T + radius_mm)
    turn = 2.0 * np.pi / CONTOUR_STEPS
    slope = np.diff(reach, axis=1, append=reach[:, :1]) / turn
    area = (reach**2 - slope**2).sum(axis=1)
    for best in np.argsort(area, kind="stable"):
        yield round_both(rubber, spots[best], radius_mm), spots[best]
