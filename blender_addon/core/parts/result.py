"""What the parts stage hands on: closed solids, each as it lies on the printer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..notices import Notice


@dataclass(frozen=True, eq=False)
class Part:
    """One thing to print. ``to_assembly`` (4, 4) brings it to its place in the job frame.

    ``role`` is "case", "base", "riser", "funnel" or "guide".
    """

    name: str
    role: str
    mesh: Mesh
    to_assembly: Floats
    size_mm: tuple[float, float, float]
    volume_ml: float
    quantity: int = 1


@dataclass(frozen=True, eq=False)
class PartsResult:
    """Every part was found to be one closed manifold."""

    parts: tuple[Part, ...]
    warnings: tuple[Notice, ...] = ()
