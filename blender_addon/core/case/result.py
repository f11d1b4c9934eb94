"""What the case stage hands on: the tube, and where the master stands in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..geometry.plan import shadow_edges

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..notices import Notice
    from .bore import Bore


@dataclass(frozen=True)
class CaseChoice:
    """A case that would do; ``rubber_ml`` is what fills it round the master.

    ``tube_price`` is what the tube costs that is sawn off for it, 0 where that is not known.
    """

    name: str
    kind: str
    inner_diameter_mm: float
    wall_mm: float
    least_rubber_mm: float
    channel_mm: float
    rubber_ml: float
    height_mm: float = 0.0
    tube_price: float = 0.0


@dataclass(frozen=True, eq=False)
class CaseResult:
    """The job frame: z = 0 on the board, the case's axis at x = y = 0, the channel towards +y.

    ``placement`` (4, 4) turns and shifts the scan frame into it, ``master`` and ``riser_outline``
    lie in it already. ``bore`` is the inside of the case in plan, ``level_z_mm`` is where the
    rubber stands, ``height_mm`` the rim of the case. ``channel_mm`` is the diameter of the widest
    disc that falls clear of the master. ``front`` is the unit vector in plan to where the best side
    looks.
    ``taken`` is this case as one of the ``choices``, which hold the others. ``bore_slack_mm`` is
    how much nearer to the axis the standard lets the wall of a tube from stock lie. ``shadow_mm``
    (k, 2, 2) are the edges of the master's shadow in plan, where they are known already.
    """

    name: str
    kind: str
    bore: Bore
    wall_mm: float
    height_mm: float
    level_z_mm: float
    riser_mm: float
    cover_mm: float
    placement: Floats
    master: Mesh
    riser_outline: tuple[Floats, ...]
    center_mm: tuple[float, float]
    least_rubber_mm: float
    least_rubber_at_mm: tuple[float, float, float]
    channel_mm: float
    channel_at_mm: tuple[float, float]
    choices: tuple[CaseChoice, ...]
    taken: CaseChoice | None = None
    warnings: tuple[Notice, ...] = ()
    front: tuple[float, float] = (0.0, -1.0)
    bore_slack_mm: float = 0.0
    shadow_mm: Floats | None = None

    @property
    def shadow(self) -> Floats:
        """Edges of the master's shadow in plan, shape (k, 2, 2)."""
        return shadow_edges(self.master) if self.shadow_mm is None else self.shadow_mm

    @property
    def inner_diameter_mm(self) -> float:
        """Of the bore; of one that is not round, that of the smallest circle round it."""
        return self.bore.inner_diameter_mm
