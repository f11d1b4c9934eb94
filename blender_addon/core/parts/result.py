"""What the parts stage hands on: closed solids, each as it lies on the printer."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .overhang import Overhang

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..notices import Notice
    from .hold import Hold

AS_IT_STANDS, UPSIDE_DOWN = "as it stands", "upside down"
"""How a part lies on the printer, by how it is used."""


@dataclass(frozen=True, eq=False)
class Part:
    """One thing to print. ``to_assembly`` (4, 4) brings it to its place in the job frame.

    ``role`` is "case", "base", "riser", "funnel" or "guide"; ``lies`` is how it lies on the
    printer, ``over_bed_mm`` by how much it is too large for the bed that is set, 0 where it fits.
    """

    name: str
    role: str
    mesh: Mesh
    to_assembly: Floats
    size_mm: tuple[float, float, float]
    volume_ml: float
    quantity: int = 1
    lies: str = AS_IT_STANDS
    over_bed_mm: float = 0.0
    overhang: Overhang = field(default_factory=lambda: Overhang(0.0, 0.0, 0))

    @property
    def fits_bed(self) -> bool:
        """Whether the bed that is set has room for it as it lies."""
        return self.over_bed_mm <= 0.0

    @property
    def wide_mm(self) -> float:
        """What it takes of the bed from left to right."""
        return self.size_mm[0]

    @property
    def deep_mm(self) -> float:
        """What it takes of the bed from front to back."""
        return self.size_mm[1]

    @property
    def tall_mm(self) -> float:
        """How high it is printed."""
        return self.size_mm[2]


@dataclass(frozen=True)
class GuidePlace:
    """Where a knife guide goes: its foot on the block's underside, its bevelled edge on the line.

    Its straight edge lies on the line that the ``seam`` of the case leaves on the block, or
    ``to_seam_mm`` round from it, to the ``way`` as one sees it from outside.
    """

    side: str
    seam: str
    to_seam_mm: float
    way: str


@dataclass(frozen=True, eq=False)
class PartsResult:
    """Every part was found to be one closed manifold; ``hold`` is what closes the seams.

    ``guides`` tells where the knife guides go, where there are any.

    ``bed_places_mm`` has for each part its bed, counted from 0, and where its middle stands on it.
    """

    parts: tuple[Part, ...]
    hold: Hold | None = None
    warnings: tuple[Notice, ...] = ()
    bed_places_mm: tuple[tuple[int, float, float], ...] = ()
    guides: tuple[GuidePlace, ...] = ()
