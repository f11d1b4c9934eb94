"""The three dots that Blender draws where a label has no room: found in a picture.

They are small marks of one size, one beside the other at one distance, with nothing over or under
them: the grips of panels have a second row.
"""

from __future__ import annotations

import itertools

import numpy as np
from scipy import ndimage

LARGEST_PX = 2.6
"""Of a dot, each way, at a scale of 1; it is drawn over two pixels where it lies between them."""
NEAREST_PX, FARTHEST_PX = 2.0, 5.5
"""From dot to dot."""
ROWS_APART = 1.8
"""Rows of a grip, in steps from dot to dot; what is further away, a corner say, is no fellow."""
BRIGHTER = 24
"""Than what is round it, of 255."""


def rows_in(brightness: np.ndarray, scale: float) -> list[int]:
    """Return the rows of a picture where three dots stand side by side.

    Parameters
    ----------
    brightness : ndarray, shape (high, wide)
        0 to 255.
    scale : float
        Of the interface that it shows.
    """
    ground = ndimage.median_filter(brightness, size=(round(9 * scale), round(9 * scale)))
    labels, _ = ndimage.label(np.abs(brightness - ground) > BRIGHTER, np.ones((3, 3)))
    small = []
    for box in ndimage.find_objects(labels):
        high, wide = (one.stop - one.start for one in box)
        if max(high, wide) <= max(2.0, LARGEST_PX * scale) + 1e-9:
            small.append(((box[0].start + box[0].stop) / 2.0, (box[1].start + box[1].stop) / 2.0))
    return sorted({round(y) for y in _triples(small, scale)})


def _triples(dots: list[tuple[float, float]], scale: float) -> list[float]:
    """Return the heights of three dots in a row that have no fellow over or under them."""
    found = []
    near, far = NEAREST_PX * scale, FARTHEST_PX * scale
    rows = itertools.groupby(sorted(dots), key=lambda one: one[0])
    for y, row in ((y, [x for _, x in group]) for y, group in rows):
        steps = np.diff(row)
        even = (np.abs(np.diff(steps)) <= 1.0) & (steps[:-1] >= near) & (steps[:-1] <= far)
        for k in np.flatnonzero(even):
            reach = ROWS_APART * steps[k]
            alone = not any(
                abs(x - row[k + 1]) <= reach and 1.0 < abs(other - y) <= reach for other, x in dots
            )
            if alone:
                found.append(y)
    return found
