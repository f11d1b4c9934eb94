"""How often closed lines in a plane go round a point."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats


def winding_number(segments: Floats, point: Floats, way: Floats | None = None) -> int:
    """Return how often closed lines, given as directed segments (k, 2, 2), go round a point (2,).

    Counted along a ray, where it is crossed from right to left and back.

    Parameters
    ----------
    segments : ndarray, shape (k, 2, 2)
    point : ndarray, shape (2,)
    way : ndarray, shape (2,), optional
        Direction of the ray; +x if not given.

    Examples
    --------
    >>> ends = np.array([[0.0, 0], [4, 0], [4, 4], [0, 4]])
    >>> square = np.stack([ends, np.roll(ends, -1, axis=0)], axis=1)
    >>> winding_number(square, np.array([1.0, 1.0])), winding_number(square, np.array([5.0, 1.0]))
    (1, 0)
    """
    x, y = (1.0, 0.0) if way is None else way.tolist()
    off = segments - point
    left = off[..., 1] * x - off[..., 0] * y
    along = off[..., 0] * x + off[..., 1] * y
    up = (left[:, 0] < 0.0) & (left[:, 1] >= 0.0)
    down = (left[:, 0] >= 0.0) & (left[:, 1] < 0.0)
    span = left[:, 1] - left[:, 0]
    share = np.divide(-left[:, 0], span, out=np.zeros(len(span)), where=up | down)
    ahead = along[:, 0] + share * (along[:, 1] - along[:, 0]) > 0.0
    return int(np.count_nonzero(up & ahead)) - int(np.count_nonzero(down & ahead))
