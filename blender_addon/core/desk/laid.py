"""What a run hands back to the window."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..bubbles.paint import Paint
    from ..cut.marks import Marks
    from ..layout import Layout
    from .pour import Pour


@dataclass(frozen=True, eq=False)
class Laid:
    """The layout with a name of its own, and what the window would else have to work out itself.

    ``rubber_mm`` (m,) is how thick the rubber is level out from each face of the master,
    ``scan_mark`` which scan the faces are counted by.
    """

    token: str
    layout: Layout
    paint: Paint
    marks: Marks
    scan_mark: str
    rubber_mm: Floats
    upright: Pour
    leaned: Pour | None
