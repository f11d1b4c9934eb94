"""What the bubbles stage hands on: pockets of air, and the class of every face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..notices import Notice


@dataclass(frozen=True)
class Lean:
    """A lean of the case and all that it traps; ``towards_deg`` counter-clockwise from +x."""

    degrees: float
    towards_deg: float
    trapped_ml: float


@dataclass(frozen=True)
class WayUp:
    """An axis of the scan as given that could point up, and what would then stay trapped."""

    up: str
    trapped_ml: float


@dataclass(frozen=True)
class Pocket:
    """Air that shares one way out.

    ``kind`` is "underside" (held under a roof), "under foot" (the board shuts a hollow of the base)
    or "sealed" (no way out). ``ceiling_at_mm`` is its
    highest point, ``escape_at_mm`` the saddle it would have had to leave by; ``freed_by`` is the
    least lean that frees it, of those looked at.
    """

    volume_ml: float
    depth_mm: float
    area_cm2: float
    ceiling_at_mm: tuple[float, float, float]
    escape_at_mm: tuple[float, float, float]
    kind: str
    freed_by: Lean | None = None


@dataclass(frozen=True)
class Doubt:
    """Columns that cannot be decided, and by how much all the trapped air may be wrong for them.

    ``at_mm`` is where most of them lie together, None where there are none. ``narrow_ml`` is what
    hangs on ways out that are narrower than a column, or lead over places where surfaces touch.
    """

    columns: int = 0
    most_ml: float = 0.0
    at_mm: tuple[float, float, float] | None = None
    narrow_ml: float = 0.0


NO_DOUBT = Doubt()


@dataclass(frozen=True, eq=False)
class BubblesResult:
    """Air in the frame of the scan result; face arrays (m,) follow the faces of its mesh.

    ``trapped_depth_mm`` is how deep a face sits in trapped air, 0 outside it. ``bound_ml`` is by
    how much the total may still change with a finer pitch, as it changed from one twice as wide,
    and besides what is in doubt: ``doubt.most_ml`` for columns that cannot be decided, and
    ``doubt.narrow_ml`` for ways out that are narrower than a column.
    ``lean`` is the best of ``leans``. ``face_pocket`` is the number of the pocket that a face
    stands in, -1 outside; ``bodies`` are the pockets' air as closed meshes, in the same order.
    ``computed`` is ``prebrush`` without the maker's paint.
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
    face_pocket: Ints
    computed: Bools
    doubt: Doubt = NO_DOUBT
    leans: tuple[Lean, ...] = ()
    ways: tuple[WayUp, ...] = ()
    bodies: tuple[Mesh, ...] = ()
    warnings: tuple[Notice, ...] = ()
