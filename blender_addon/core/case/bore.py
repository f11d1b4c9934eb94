"""The inside of a case in plan: round, or any convex outline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..arrays import Floats, locked
from ..constants.common import ROUND_SEGMENTS
from ..geometry.hull import smallest_circle
from ..geometry.plan import edge_distances_mm

if TYPE_CHECKING:
    import numpy.typing as npt

_AT_ONCE = 4_000_000


@dataclass(frozen=True, eq=False)
class Bore:
    """A closed convex outline (k, 2) in the job frame, counter-clockwise, locked.

    Where ``radius_mm`` is above zero the bore is a circle about the axis: its measures follow from
    the radius, and the outline touches the circle from outside.

    Examples
    --------
    >>> oblong = Bore([[-30, -20], [30, -20], [30, 20], [-30, 20]])
    >>> oblong.area_mm2, oblong.girth_mm, oblong.seam_x_mm
    (2400.0, 200.0, (-30.0, 30.0))
    >>> oblong.distances_mm([[0, 0], [25, 0], [33, 24]]).tolist()
    [20.0, 5.0, -5.0]
    """

    outline_mm: Floats
    radius_mm: float = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "outline_mm", locked(self.outline_mm, np.float64))

    @property
    def is_round(self) -> bool:
        """Whether it is a circle about the axis."""
        return self.radius_mm > 0.0

    @cached_property
    def inner_diameter_mm(self) -> float:
        """The bore's, or that of the smallest circle round an outline that is not round."""
        return 2.0 * (self.radius_mm if self.is_round else smallest_circle(self.outline_mm)[1])

    @cached_property
    def area_mm2(self) -> float:
        """What it holds for each mm of height; of an outline by the shoelace formula."""
        if self.is_round:
            return math.pi * self.radius_mm**2
        x, y = (self.outline_mm - self.outline_mm[0]).T
        return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0

    @cached_property
    def girth_mm(self) -> float:
        """The way round it."""
        if self.is_round:
            return 2.0 * math.pi * self.radius_mm
        return float(np.linalg.norm(self._sides, axis=1).sum())

    @cached_property
    def reach_mm(self) -> float:
        """How far the outline goes from the axis."""
        return self.radius_mm or float(np.hypot(*self.outline_mm.T).max())

    @cached_property
    def seam_x_mm(self) -> tuple[float, float]:
        """Where the plane of the seams, y = 0, meets the wall: x at the left and at the right."""
        left, right = self.reaches_mm(np.zeros((2, 2)), np.array([[-1.0, 0.0], [1.0, 0.0]]))
        return -float(left), float(right)

    @property
    def _sides(self) -> Floats:
        sides: Floats = np.roll(self.outline_mm, -1, axis=0) - self.outline_mm
        return sides

    @cached_property
    def _walls(self) -> tuple[Floats, Floats]:
        """Outward unit normal (k, 2) of each side that has a length, and how far out it lies."""
        sides = self._sides
        length = np.linalg.norm(sides, axis=1)
        real = length > 0.0
        normals = np.column_stack([sides[:, 1], -sides[:, 0]])[real] / length[real, None]
        return normals, np.einsum("ij,ij->i", normals, self.outline_mm[real])

    def distances_mm(self, points: npt.ArrayLike) -> Floats:
        """Return how far points (n, 2) are from the wall, shape (n,); outside it is negative."""
        points = np.asarray(points, dtype=np.float64)
        if self.is_round:
            inside: Floats = self.radius_mm - np.hypot(points[:, 0], points[:, 1])
            return inside
        normals, out = self._walls
        off = np.zeros(len(points))
        rows = max(1, _AT_ONCE // len(normals))
        for low in range(0, len(points), rows):
            off[low : low + rows] = (out - points[low : low + rows] @ normals.T).min(axis=1)
        if (beyond := off < 0.0).any():
            ends = np.stack([self.outline_mm, self.outline_mm + self._sides], axis=1)
            off[beyond] = -edge_distances_mm(points[beyond], ends)
        return off

    def reaches_mm(self, starts: npt.ArrayLike, ways: npt.ArrayLike) -> Floats:
        """Return how far it is from points (n, 2) inside to the wall along unit vectors (n, 2)."""
        starts, ways = np.asarray(starts, np.float64), np.asarray(ways, np.float64)
        if self.is_round:
            along = np.einsum("ij,ij->i", starts, ways)
            spare = self.radius_mm**2 - np.einsum("ij,ij->i", starts, starts)
            reach: Floats = np.sqrt(np.maximum(along**2 + spare, 0.0)) - along
            return reach
        normals, out = self._walls
        speed, left = ways @ normals.T, out - starts @ normals.T
        on_way = speed > 0.0
        times = np.where(on_way, left / np.where(on_way, speed, 1.0), np.inf)
        return np.asarray(times.min(axis=1), dtype=np.float64)

    def offset(self, by_mm: float) -> Bore:
        """Return the outline that lies everywhere so far outside, or inside where negative.

        Corners become round. A round bore stays exactly round.

        Examples
        --------
        >>> round_bore(100.0).offset(4.0).inner_diameter_mm
        108.0
        """
        if self.is_round:
            return round_bore(2.0 * (self.radius_mm + by_mm))
        round_join = manifold3d.JoinType.Round
        grown = self.section().offset(by_mm, round_join, circular_segments=ROUND_SEGMENTS)
        return Bore(np.asarray(grown.to_polygons()[0]))

    def section(self) -> manifold3d.CrossSection:
        """Return the outline as the library's section."""
        return manifold3d.CrossSection([np.array(self.outline_mm)])


def round_bore(inner_diameter_mm: float) -> Bore:
    """Return the bore of a tube; its outline has corners on both axes.

    Examples
    --------
    >>> tube = round_bore(160.0)
    >>> tube.is_round, round(tube.area_mm2, 1), tube.seam_x_mm
    (True, 20106.2, (-80.0, 80.0))
    """
    radius = inner_diameter_mm / 2.0
    angle = 2.0 * np.pi * np.arange(ROUND_SEGMENTS) / ROUND_SEGMENTS
    corners = np.column_stack([np.cos(angle), np.sin(angle)])
    return Bore(radius / math.cos(math.pi / ROUND_SEGMENTS) * corners, radius)
