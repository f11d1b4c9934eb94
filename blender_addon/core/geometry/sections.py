"""Level lines: where horizontal planes cut a mesh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.geometry import PLANE_OFFSET_SHARE
from .plane_cuts import level_cuts

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .mesh import Mesh
    from .plane_cuts import PlaneCuts


@dataclass(frozen=True, eq=False)
class Sections:
    """Segments (k, 2, 2) of x and y in mm; ``level`` (k,) names each one's plane in ``heights_mm``.

    Of a closed mesh the solid lies on the left hand of every segment. Sorted by level.
    """

    heights_mm: Floats
    level: Ints
    segments: Floats

    def at(self, number: int) -> Floats:
        """Return the segments (j, 2, 2) of one plane."""
        first, last = np.searchsorted(self.level, [number, number + 1])
        return self.segments[first:last]


def section_heights_mm(mesh: Mesh, cells: int) -> Floats:
    """Return heights that miss no ledge: in each cell just below and above a vertex, and between.

    The girth of a mesh bends or jumps at its vertices only. A mesh of few rings is therefore
    measured at each of them; one of many is measured at one ring in each cell of height.

    Parameters
    ----------
    mesh : Mesh
        At least two vertices of different height.
    cells : int
        Parts the height is cut in.
    """
    used = np.zeros(len(mesh.vertices), dtype=np.bool_)
    used[mesh.faces] = True
    vertex_z = mesh.vertices[used, 2]
    low, high = float(np.min(vertex_z)), float(np.max(vertex_z))
    pitch = (high - low) / cells
    near = (high - low) * PLANE_OFFSET_SHARE
    lowest = np.full(cells + 1, np.inf)
    np.minimum.at(lowest, ((vertex_z - low) / pitch).astype(np.int64), vertex_z)
    rings = lowest[np.isfinite(lowest)]
    even = low + pitch * (np.arange(cells) + 0.5)
    heights = np.unique(np.concatenate([rings - near, rings + near, even, [high - near]]))
    inside: Floats = heights[(heights > low) & (heights < high)]
    return inside


def horizontal_sections(mesh: Mesh, heights_mm: Floats) -> Sections:
    """Cut a mesh by horizontal planes.

    A vertex in a plane counts as above it, so that every section of a closed mesh is closed.

    Parameters
    ----------
    mesh : Mesh
        Any triangles.
    heights_mm : ndarray, shape (n,)
        Ascending heights of the planes.

    Returns
    -------
    Sections
        Each crossed triangle gives one segment.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> front = Mesh([[0, 0, 0], [4, 0, 0], [0, 0, 2]], [[0, 1, 2]])  # faces -y
    >>> horizontal_sections(front, np.array([1.0])).segments.tolist()
    [[[0.0, 0.0], [2.0, 0.0]]]
    """
    return sections_of(level_cuts(mesh, heights_mm), heights_mm)


def sections_of(cuts: PlaneCuts, heights_mm: Floats) -> Sections:
    """Return the lines of level cuts at some heights as sections."""
    order = np.argsort(cuts.plane, kind="stable")
    return Sections(heights_mm, cuts.plane[order], cuts.ends_mm[order])
