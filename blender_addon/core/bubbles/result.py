"""What the bubbles stage hands on: pockets of air, and the class of every face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..notices import Notice


@dataclass(frozen=True)
class Pocket:
    """Air that shares one way out.

    ``kind`` is "underside" (held under a roof) or "sealed" (no way out). ``ceiling_at_mm`` is its
    highest point, ``escape_at_mm`` the saddle it would have had to leave by.
    """

    volume_ml: float
    depth_mm: float
    area_cm2: float
    ceiling_at_mm: tuple[float, float, float]
    escape_at_mm: tuple[float, float, float]
    kind: str


@dataclass(frozen=True)
class Lean:
    """The lean of the case that traps least; ``towards_deg`` counter-clockwise from +x."""

    degrees: float
    towards_deg: float
    trapped_ml: float


@dataclass(frozen=True, eq=False)
class BubblesResult:
    """Air in the frame of the scan result; face arrays (m,) follow the faces of its mesh.

    ``trapped_depth_mm`` is how deep a face sits in trapped air, 0 outside it. ``bound_ml`` is how
    much the total changed from a pitch twice as wide: halving the pitch changes it by less.
    """

    pitch_mm: float
    trapped_ml: float
    bound_ml: float
    pockets: tuple[Pocket, ...]
    trapped_depth_mm: Floats
    clinging: Bools
    narrow: Bools
    prebrush: Bools
    clinging_area_cm2: float
    narrow_area_cm2: float
    prebrush_area_cm2: float
    prebrush_g: float
    lean: Lean
    warnings: tuple[Notice, ...] = ()
