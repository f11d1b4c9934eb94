"""The outline of a closed mesh at a height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .loops import simple_loops
from .plane_cuts import level_cuts

if TYPE_CHECKING:
    from ..arrays import Floats
    from .mesh import Mesh


def outline_at(mesh: Mesh, z_mm: float) -> list[Floats]:
    """Return the closed lines in which a level plane cuts a closed mesh.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    z_mm : float
        Height of the plane.

    Returns
    -------
    list of ndarray, shape (k, 2)
        x, y in mm; the solid lies on the left, so outer lines run counter-clockwise.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [3, 0, 0], [0, 3, 0], [0, 0, 3]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> len(outline_at(wedge, 1.0)), float(np.ptp(outline_at(wedge, 1.0)[0][:, 0]))
    (1, 2.0)
    """
    return outlines_at(mesh, np.array([z_mm]))[0]


def outlines_at(mesh: Mesh, heights_mm: Floats) -> list[list[Floats]]:
    """Return as `outline_at` the lines of several planes (n,), ascending: a list for each."""
    cuts = level_cuts(mesh, heights_mm)
    found = []
    for plane in range(len(heights_mm)):
        here = cuts.plane == plane
        points, index = np.unique(cuts.edges[here].ravel(), return_inverse=True)
        place = np.zeros((len(points), 2))
        place[index] = cuts.ends_mm[here].reshape(-1, 2)
        found.append([place[loop] for loop in simple_loops(index.reshape(-1, 2))])
    return found
