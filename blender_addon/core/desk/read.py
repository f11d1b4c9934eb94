"""What was read in the window, and what core makes of it: the same again while nothing changed.

Stages that get the very same mesh, paint and marks need not run again: sameness is worth keeping.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..bubbles.paint import NO_PAINT, Paint
from ..cut.marks import NO_MARKS, Marks
from ..geometry.mesh import Mesh

if TYPE_CHECKING:
    import numpy.typing as npt


@dataclass(frozen=True, eq=False)
class Raw:
    """An object as it was read: not yet a mesh of core, which takes long for a fine scan.

    ``vertices`` (n, 3) in the object's own frame, ``faces`` (m, 3), ``matrix`` (4, 4) to mm.
    """

    vertices: npt.NDArray[Any]
    faces: npt.NDArray[Any]
    matrix: npt.NDArray[Any]

    def equals(self, other: Raw | None) -> bool:
        """Tell whether another reading is the same in every number."""
        return other is not None and all(
            np.array_equal(mine, theirs)
            for mine, theirs in (
                (self.matrix, other.matrix),
                (self.faces, other.faces),
                (self.vertices, other.vertices),
            )
        )


@dataclass(frozen=True, eq=False)
class Painted:
    """The paint of a map: the mark of its scan; of each face the scan's triangle, and the paint.

    ``not_here`` are the faces that no cut may cross.
    """

    mark: str
    source: npt.NDArray[Any]
    paint: npt.NDArray[Any]
    not_here: npt.NDArray[Any]


def mark_of(mesh: Mesh) -> str:
    """Return what tells a scan from others: its triangles, wherever its vertices were moved.

    Examples
    --------
    >>> mark_of(Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]]))
    '1-4f8c5ccc'
    """
    return f"{len(mesh.faces)}-{zlib.crc32(mesh.faces.tobytes()):08x}"


class Reader:
    """Makes mesh, paint and marks of what was read, and hands back the last ones when equal."""

    def __init__(self) -> None:
        self._raw: Raw | None = None
        self._mesh: Mesh | None = None
        self._paint, self._marks = NO_PAINT, NO_MARKS

    def mesh_of(self, raw: Raw) -> Mesh:
        """Return the mesh of an object.

        Raises
        ------
        UnusableMeshError
            If a vertex has no finite position.
        """
        if self._mesh is None or not raw.equals(self._raw):
            self._mesh = Mesh(raw.vertices, raw.faces).moved(raw.matrix)
            self._raw = raw
        return self._mesh

    def paint_of(self, painted: Painted | None, mesh: Mesh) -> Paint:
        """Return the paint by the faces of a scan; paint on the map of another does not count."""
        faces = np.zeros(len(mesh.faces), dtype=np.int64)
        if painted is not None and painted.mark == mark_of(mesh):
            given = painted.source >= 0
            faces[painted.source[given]] = painted.paint[given]
        if not faces.any():
            self._paint = NO_PAINT
        elif not np.array_equal(faces, self._paint.faces):
            self._paint = Paint(faces)
        return self._paint

    def marks_of(self, painted: Painted | None, mesh: Mesh) -> Marks:
        """Return the marks by the faces of a scan; those on the map of another do not count."""
        faces = np.zeros(len(mesh.faces), dtype=np.bool_)
        if painted is not None and painted.mark == mark_of(mesh):
            faces[painted.source[painted.not_here & (painted.source >= 0)]] = True
        if not faces.any():
            self._marks = NO_MARKS
        elif not np.array_equal(faces, self._marks.faces):
            self._marks = Marks(faces)
        return self._marks
