"""A case that does, and the kinds there are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..catalog.tube import Tube
    from .bore import Bore
    from .trial import Stand

STOCK, ROUND, OVAL, CONTOUR = "stock tube", "printed round", "printed oval", "printed contour"
PRINTED = (ROUND, OVAL, CONTOUR)
AUTOMATIC = "automatic"
KINDS = (AUTOMATIC, STOCK, *PRINTED)
ONE_DIAMETER = (STOCK, ROUND)
"""As wide inside one way as the other; of the rest the widest place is told."""


@dataclass(frozen=True, eq=False)
class Case:
    """A case that does, with the master's stand in it; ``tube`` is none when it is printed."""

    name: str
    kind: str
    bore: Bore
    wall_mm: float
    stand: Stand
    tube: Tube | None = None
