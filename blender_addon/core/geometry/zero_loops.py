"""Where values over a surface pass zero."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .loops import simple_loops
from .plane_cuts import plane_cuts

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .mesh import Mesh


def zero_loops(mesh: Mesh, values: Floats) -> tuple[list[Floats], Ints]:
    """Return the closed lines where values at the vertices pass zero, and the faces they cross.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    values : ndarray, shape (n,)
        Straight over each face.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [3, 0, 0], [0, 3, 0], [0, 0, 3]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> loops, faces = zero_loops(wedge, np.array([-1.0, -1.0, -1.0, 2.0]))
    >>> len(loops), loops[0][:, 2].tolist(), faces.tolist()
    (1, [1.0, 1.0, 1.0], [1, 2, 3])
    """
    x, y, z = mesh.vertices.T
    level = np.zeros(1)
    plan = plane_cuts(np.column_stack([x, y, values]), mesh.faces, level)
    side = plane_cuts(np.column_stack([z, z, values]), mesh.faces, level)
    names, point = np.unique(plan.edges.ravel(), return_inverse=True)
    places = np.zeros((len(names), 3))
    places[point, :2] = plan.ends_mm.reshape(-1, 2)
    places[point, 2] = side.ends_mm.reshape(-1, 2)[:, 0]
    loops = [places[loop] for loop in simple_loops(point.reshape(-1, 2))]
    return loops, plan.face
