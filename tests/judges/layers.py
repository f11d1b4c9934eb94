"""Layers as a printer lays them down, and what of each rests on nothing."""

from __future__ import annotations

import math

import numpy as np

LAYER_MM = 0.2
LINE_MM = 0.4
"""Width of a printed line; half as narrow as that is not laid down. Common practice, no source."""


def unsupported_mm2(solid):
    """Return the largest area by which a layer reaches out further than 45 degrees let it.

    An island has all its area there; so this is stricter than a search for islands. What is
    narrower than half a line is no part of a layer: where two faces meet at a sharp angle, a
    sliver of a twentieth of a millimetre grows along the edge faster than 45 degrees.
    """
    high = solid.bounding_box()[5]
    reach = LAYER_MM * math.tan(math.radians(45)) + 0.01
    worst, below = 0.0, None
    for z in np.arange(LAYER_MM / 2, high, LAYER_MM):
        layer = solid.slice(float(z))
        if below is not None:
            hangs = layer - below.offset(reach)
            if hangs.area() > 0.0:
                hangs ^= layer.offset(-LINE_MM / 4).offset(LINE_MM / 4)
            worst = max(worst, hangs.area())
        below = layer
    return worst
