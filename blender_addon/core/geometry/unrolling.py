"""A band between two lines in space, laid flat without stretch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats


def unrolled(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Return both edges of a band as they lie in the plane, each (n, 2).

    Parameters
    ----------
    low, high : ndarray, shape (n, 3)
        The edges, point over point. Four neighbouring points lie in one plane, as on cylinders,
        cones and whatever else can be made of card; two may fall together on one edge.

    Returns
    -------
    tuple of ndarray, shape (n, 2)
        Seen from the side on which ``low`` runs to the right under ``high``. The first point of
        ``low`` is the origin, the first of ``high`` straight over it.

    Examples
    --------
    >>> low = np.array([[0.0, 0.0, 0.0], [3.0, 4.0, 0.0], [3.0, 14.0, 0.0]])
    >>> unrolled(low, low + [0.0, 0.0, 7.0])[1].tolist()
    [[0.0, 7.0], [5.0, 7.0], [15.0, 7.0]]
    """
    flat = np.zeros((len(low), 2, 2))
    flat[0, 1, 1] = np.linalg.norm(high[0] - low[0])
    for k in range(len(low) - 1):
        start, rung = low[k], high[k] - low[k]
        length = np.linalg.norm(rung)
        ahead = np.stack([low[k + 1], high[k + 1]]) - start
        along = ahead @ rung / length
        off = np.linalg.norm(ahead - along[:, None] * rung / length, axis=1)
        up = (flat[k, 1] - flat[k, 0]) / length
        right = np.array([up[1], -up[0]])
        flat[k + 1] = flat[k, 0] + along[:, None] * up + off[:, None] * right
    return flat[:, 0], flat[:, 1]
