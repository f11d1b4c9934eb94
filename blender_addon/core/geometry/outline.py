"""The outline of a closed mesh at a height."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .loops import simple_loops
from .rows import Grid, row_cuts

if TYPE_CHECKING:
    from ..arrays import Floats
    from .mesh import Mesh


_ONE_ROW_MM = 1e9  # rows so far apart that only the first meets the mesh


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
    plane = Grid(0.0, z_mm, _ONE_ROW_MM, 1, 1)
    over = (mesh.vertices[:, 2] > z_mm)[mesh.faces]
    crossing = over.any(axis=1) & ~over.all(axis=1)
    cuts = row_cuts(mesh.vertices[:, [0, 2, 1]], mesh.faces[crossing], plane)
    points, index = np.unique(cuts.ends.ravel(), return_inverse=True)
    place = np.zeros((len(points), 2))
    place[index] = cuts.xz.reshape(-1, 2)
    edges = index.reshape(-1, 2)
    return [place[loop] for loop in simple_loops(edges)]
