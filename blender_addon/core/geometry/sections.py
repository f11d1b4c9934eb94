"""Level lines: where horizontal planes cut a mesh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import PLANE_OFFSET_SHARE

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .mesh import Mesh


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


def crossings(low: Floats, high: Floats, heights: Floats) -> tuple[Ints, Ints]:
    """Return all pairs of a span and a height with low < height <= high.

    Parameters
    ----------
    low, high : ndarray, shape (m,)
        Ends of the spans.
    heights : ndarray, shape (n,)
        Ascending.

    Returns
    -------
    span, height : ndarray, shape (k,)
        Numbers into the spans and into the heights, sorted by span.

    Examples
    --------
    >>> crossings(np.array([0.0, 1.0]), np.array([2.0, 1.5]), np.array([0.0, 1.0, 2.0]))
    (array([0, 0]), array([1, 2]))
    """
    first = np.searchsorted(heights, low, side="right")
    count = np.searchsorted(heights, high, side="right") - first
    span = np.repeat(np.arange(len(count)), count)
    started = np.cumsum(count) - count
    return span, np.arange(len(span)) - started[span] + first[span]


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
    vertex_z = np.unique(mesh.vertices[np.unique(mesh.faces), 2])
    low, high = vertex_z[0], vertex_z[-1]
    pitch = (high - low) / cells
    near = (high - low) * PLANE_OFFSET_SHARE
    rings = vertex_z[np.unique(np.floor((vertex_z - low) / pitch), return_index=True)[1]]
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
    corner_z = mesh.vertices[mesh.faces, 2]
    a, b, c = corner_z.T
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    face, level = crossings(low, high, heights_mm)
    order = np.argsort(level, kind="stable")
    face, level = face[order], level[order]
    above = corner_z[face] >= heights_mm[level, None]
    lone_is_above = above.sum(axis=1) == 1
    alone = np.argmax(above == lone_is_above[:, None], axis=1)  # the corner on its own side
    corners = mesh.vertices[mesh.faces[face]]
    rows = np.arange(len(face))
    lone, after, before = (corners[rows, (alone + k) % 3] for k in range(3))
    to_after = _on_plane(lone, after, heights_mm[level])
    to_before = _on_plane(lone, before, heights_mm[level])
    segments = np.where(
        lone_is_above[:, None, None],
        np.stack([to_after, to_before], axis=1),
        np.stack([to_before, to_after], axis=1),
    )
    return Sections(heights_mm, level, segments)


def _on_plane(start: Floats, end: Floats, height: Floats) -> Floats:
    share = (height - start[:, 2]) / (end[:, 2] - start[:, 2])
    point: Floats = start[:, :2] + share[:, None] * (end[:, :2] - start[:, :2])
    return point
