"""A desk: one piece at work, with all that is remembered of it between two runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..memo import Memo
from ..pipeline import lay_out
from .pour import Pour, pour_of
from .read import Painted, Raw, Reader, mark_of

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..bubbles.paint import Paint
    from ..cut.marks import Marks
    from ..layout import Layout
    from ..settings import Settings
    from ..watch import Watch


@dataclass(frozen=True, eq=False)
class Order:
    """What a run is given: the scan and the maker's paint as they were read, and what is wanted.

    ``lean_deg`` is how the case leans in the window: how far, and where to.
    """

    raw: Raw
    painted: Painted | None
    settings: Settings
    lean_deg: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, eq=False)
class Laid:
    """What a run hands back: the layout, and what the window would else have to work out itself.

    ``rubber_mm`` (m,) is how thick the rubber is level out from each face of the master,
    ``scan_mark`` which scan the faces are counted by.
    """

    layout: Layout
    paint: Paint
    marks: Marks
    scan_mark: str
    rubber_mm: Floats
    upright: Pour
    leaned: Pour | None


class Desk:
    """Runs orders for one piece; stages whose inputs are the same as last time do not run again."""

    def __init__(self) -> None:
        self._reader = Reader()
        self._memo = Memo()

    def run(self, order: Order, watch: Watch) -> Laid:
        """Lay out the mold.

        Raises
        ------
        RiselineError
            If the scan or a setting cannot be used, or the user stopped the work.
        """
        mesh = self._reader.mesh_of(order.raw)
        paint = self._reader.paint_of(order.painted, mesh)
        marks = self._reader.marks_of(order.painted, mesh)
        layout = lay_out(mesh, order.settings, self._memo, watch, paint, marks)
        middles = layout.case.master.corners.mean(axis=1)
        rubber_mm = layout.case.bore.distances_mm(middles[:, :2])
        _ = layout.looks_to  # kept with the layout, so that the window need not work it out
        leaned = pour_of(layout, *order.lean_deg) if order.lean_deg[0] > 0.0 else None
        return Laid(layout, paint, marks, mark_of(mesh), rubber_mm, pour_of(layout), leaned)
