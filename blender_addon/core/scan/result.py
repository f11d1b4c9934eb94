"""What the scan stage hands on: the master, closed, in true size, upright on its riser."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..notices import Notice


@dataclass(frozen=True)
class Hole:
    """An opening that was closed."""

    edges: int
    across_mm: float
    at_mm: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class ScanResult:
    """The master on its riser: z = 0 is the top of the board, x = y = 0 the middle of its plan.

    ``triangles`` counts those that were given. ``source_faces`` (m,) names for each face of
    ``mesh`` the given triangle it is, -1 where it was added. ``base_faces`` (m,) marks what stands
    on the riser. ``riser_outline`` holds closed polygons (k, 2) in mm, counter-clockwise.
    ``placement`` (4, 4) brings a given vertex here, scale included. ``open_edges`` counts the edges
    of the given mesh that only one triangle uses.
    """

    mesh: Mesh
    source_faces: Ints
    base_faces: Bools
    riser_outline: tuple[Floats, ...]
    riser_mm: float
    placement: Floats
    triangles: int
    size_mm: tuple[float, float, float]
    volume_ml: float
    area_cm2: float
    open_edges: int
    holes: tuple[Hole, ...]
    pieces: int
    through_holes: int
    up: str
    scale: float
    changes: tuple[str, ...]
    warnings: tuple[Notice, ...] = ()
