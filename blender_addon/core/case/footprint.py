"""What of the master counts in plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import CELLS_IN_CHANNEL, FEWEST_PLAN_CELLS, MOST_BAYS, MOST_PLAN_CELLS
from ..geometry.hull import hull_corners, smallest_circle
from ..geometry.plan import shadow_edges
from ..geometry.rim import Rim, outer_rim

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class Footprint:
    """Edges of its shadow (k, 2, 2) and their outer rim, corners of its convex outline (h, 2).

    ``middle`` (2,) and ``radius_mm`` are those of the smallest circle round it.
    """

    edges: Floats
    rim: Rim
    corners: Floats
    middle: Floats
    radius_mm: float


def used_points(mesh: Mesh) -> Floats:
    """Return the vertices (n, 3) that a face uses."""
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.faces.ravel()] = True
    return mesh.vertices[used]


def footprint(mesh: Mesh, least_channel_mm: float) -> Footprint:
    """Return the plan of a closed mesh, fine enough to look for channels of a width.

    Raises
    ------
    UnusableMeshError
        If it has no width seen from above.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 40, 0], [0, 0, 10]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> footprint(wedge, 20.0).radius_mm
    25.0
    """
    corners = hull_corners(used_points(mesh)[:, :2])
    middle, radius = smallest_circle(corners)
    edges = shadow_edges(mesh)
    cells = 2.0 * radius / least_channel_mm * CELLS_IN_CHANNEL
    cell_mm = 2.0 * radius / min(max(cells, FEWEST_PLAN_CELLS), MOST_PLAN_CELLS)
    rim = outer_rim(edges, cell_mm, least_channel_mm / 2.0 - cell_mm, MOST_BAYS)
    return Footprint(edges, rim, corners, middle, radius)
