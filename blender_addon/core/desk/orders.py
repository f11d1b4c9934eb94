"""What can be ordered: read a file, measure a piece, lay out its mold."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Protocol

from ..files.read import read
from ..pipeline import lay_out
from ..scan.size import upright_size_mm
from .drawn import DrawnEdges, drawn_edges
from .laid import Laid
from .pour import Pour, pour_of
from .read import Painted, Raw, mark_of

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..layout import Layout
    from ..scan.settings import ScanSettings
    from ..settings import Settings
    from ..watch import Watch
    from .desk import Desk


class Order(Protocol):
    """Work to be done at a desk.

    ``is_whole`` tells whether large arrays that neither order nor result name may be forgotten.
    """

    is_whole: ClassVar[bool]

    def run_at(self, desk: Desk, watch: Watch) -> Any:
        """Do it, and return the result."""


@dataclass(frozen=True, eq=False)
class ReadIn:
    """A scan that was read, and its edges as Blender keeps them."""

    mesh: Mesh
    edges: DrawnEdges | None


@dataclass(frozen=True)
class Reading:
    """Read a scan from a file."""

    path: str
    is_whole: ClassVar[bool] = False

    def run_at(self, desk: Desk, watch: Watch) -> ReadIn:
        """Return the scan; nothing of it is remembered at the desk.

        Raises
        ------
        UnreadableFileError
            If there is no mesh in the file.
        """
        del desk
        watch.begin("Read")
        mesh = read(self.path)
        edges = drawn_edges(mesh)
        watch.at(1.0)
        return ReadIn(mesh, edges)


@dataclass(frozen=True, eq=False)
class Measuring:
    """Measure a piece before anything is laid out."""

    raw: Raw
    settings: ScanSettings
    is_whole: ClassVar[bool] = False

    def run_at(self, desk: Desk, watch: Watch) -> tuple[Floats, str]:
        """Return its size (3,) once it stands upright, and the axis up.

        Raises
        ------
        UnusableMeshError
            If it is flat.
        """
        watch.begin("Scan")
        return upright_size_mm(desk.reader.mesh_of(self.raw), self.settings)


@dataclass(frozen=True, eq=False)
class Laying:
    """Lay out a mold: of the scan and the maker's paint as they were read, as the settings say.

    ``lean_deg`` is how the case leans in the window: how far, and where to.
    """

    raw: Raw
    painted: Painted | None
    settings: Settings
    lean_deg: tuple[float, float] = (0.0, 0.0)
    is_whole: ClassVar[bool] = True

    def run_at(self, desk: Desk, watch: Watch) -> Laid:
        """Return the layout; stages whose inputs are the same as last time do not run again.

        Raises
        ------
        RiselineError
            If the scan or a setting cannot be used, or the user stopped the work.
        """
        mesh = desk.reader.mesh_of(self.raw)
        paint = desk.reader.paint_of(self.painted, mesh)
        marks = desk.reader.marks_of(self.painted, mesh)
        layout = lay_out(mesh, self.settings, desk.memo, watch, paint, marks)
        picture = desk.pictures.picture_of(layout, paint, marks)
        _ = layout.looks_to  # kept with the layout, so that the window need not work it out
        leaned = pour_of(layout, *self.lean_deg) if self.lean_deg[0] > 0.0 else None
        token = uuid.uuid4().hex
        desk.keep(token, layout)
        return Laid(token, layout, picture, mark_of(mesh), pour_of(layout), leaned)


@dataclass(frozen=True, eq=False)
class Leaning:
    """Pour into a case that leans: into the layout of a token, or one that is brought along.

    ``lean_deg`` is how far, and where to in the job frame, counter-clockwise from +x.
    """

    token: str
    layout: Layout | None
    lean_deg: tuple[float, float]
    is_whole: ClassVar[bool] = False

    def run_at(self, desk: Desk, watch: Watch) -> Pour:
        """Return the pour.

        Raises
        ------
        ForgottenLayoutError
            If the layout is not at the desk any more, and was not brought along.
        """
        watch.begin("Rubber")
        return pour_of(self.layout or desk.layout(self.token), *self.lean_deg)
