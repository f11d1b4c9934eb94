"""The oval case: the ellipse or the stadium that holds least."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import OVAL_SPOTS
from .around import CIRCLE, round_both
from .ellipse import ellipses_round
from .sector import unit_vectors
from .smallest_ellipse import smallest_ellipse
from .stadium import stadium_round

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Floats

_WAYS = unit_vectors(np.arange(0.0, 360.0, 10.0))


def ovals(rubber: Floats, spots: Floats, radius_mm: float) -> Iterator[tuple[Floats, Floats]]:
    """Yield the ovals that hold least, best first, each with its channel's middle (2,).

    Parameters
    ----------
    rubber : ndarray, shape (k, 2)
        Convex outline of the master with its rubber.
    spots : ndarray, shape (n, 2)
        Where the channel could stand.
    radius_mm : float
        Of the channel.
    """
    few = rubber[(rubber @ _WAYS.T).argmax(axis=0)]
    spots = spots[::2]
    disc = radius_mm * CIRCLE[:: len(CIRCLE) // 8]
    points = np.concatenate(
        [np.broadcast_to(few, (len(spots), *few.shape)), spots[:, None] + disc], axis=1
    )
    by_ellipse = ellipses_round(points)[1]
    by_stadium = np.array([_area_mm2(stadium_round(one)) for one in points])
    best = np.argsort(np.minimum(by_ellipse, by_stadium), kind="stable")[:OVAL_SPOTS]
    found = [(_smaller(round_both(rubber, spots[k], radius_mm)), spots[k]) for k in best]
    yield from sorted(found, key=lambda one: _area_mm2(one[0]))


def _smaller(outline: Floats) -> Floats:
    """Return the smaller of ellipse and stadium round a convex outline, as a polygon round it."""
    matrix = smallest_ellipse(outline)
    ellipse = CIRCLE @ matrix[:2].T + matrix[2]
    return min(ellipse, stadium_round(outline, exact=True), key=_area_mm2)


def _area_mm2(outline: Floats) -> float:
    x, y = (outline - outline[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
