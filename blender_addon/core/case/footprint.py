"""What of the master counts in plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.hull import hull_corners, smallest_circle
from ..geometry.plan import shadow_edges

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class Footprint:
    """Edges of its shadow (k, 2, 2), corners of its convex outline (h, 2), the circle round them."""

    edges: Floats
    corners: Floats
    middle: Floats
    radius_mm: float


def footprint(mesh: Mesh) -> Footprint:
    """Return the plan of a closed mesh.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 40, 0], [0, 0, 10]]
    >>> footprint(Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])).radius_mm
    25.0
    """
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.faces.ravel()] = True
    corners = hull_corners(mesh.vertices[used, :2])
    middle, radius = smallest_circle(corners)
    return Footprint(shadow_edges(mesh), corners, middle, radius)
