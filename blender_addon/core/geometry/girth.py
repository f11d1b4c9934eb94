"""Girth: what a tight band round a horizontal section measures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import ConvexHull, QhullError

if TYPE_CHECKING:
    from ..arrays import Floats
    from .sections import Sections


def girths_mm(sections: Sections) -> Floats:
    """Return the perimeter of each section's convex hull, 0 where the plane meets nothing.

    Parameters
    ----------
    sections : Sections
        Of n planes through a closed mesh.

    Returns
    -------
    ndarray, shape (n,)
        In mm. A section with no width counts twice its length, as a band round it would.

    Examples
    --------
    >>> from blender_addon.core.geometry.sections import Sections
    >>> square = np.array([[[0, 0], [3, 0]], [[3, 0], [3, 2]], [[3, 2], [0, 2]], [[0, 2], [0, 0.]]])
    >>> girths_mm(Sections(np.array([5.0]), np.zeros(4, int), square)).tolist()
    [10.0]
    """
    girths = np.zeros(len(sections.heights_mm))
    for number in range(len(girths)):
        points = sections.at(number)[:, 0]  # where one segment ends another starts
        if len(points):
            girths[number] = band_mm(points)
    return girths


def band_mm(points: Floats) -> float:
    """Return the perimeter of the convex hull of points (n, 2) in a plane.

    Examples
    --------
    >>> band_mm(np.array([[0.0, 0], [3, 0], [3, 2], [0, 2], [1, 1]]))
    10.0
    """
    spread = float(np.max(np.ptp(points, axis=0)))
    if spread == 0.0:
        return 0.0
    centred = (points - points[0]) / spread  # or a tiny section is called flat
    try:
        hull = ConvexHull(centred)
    except QhullError:
        return 2.0 * spread * float(np.linalg.norm(np.ptp(centred, axis=0)))
    return float(hull.area) * spread  # in the plane the library calls the perimeter "area"
