"""The maker's marks where no cut may go: kept by the faces of the scan, as the paint is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.cut.marks import NO_MARKS, Marks
from . import attributes, names
from .build import show_classes
from .paint import mark_of
from .views import MODE

if TYPE_CHECKING:
    import bpy

    from ..core.geometry.mesh import Mesh
    from .paint import Painted


class MarksReader:
    """Makes marks of what was read, the same ones while they are equal: no stage runs again."""

    def __init__(self) -> None:
        self._last = NO_MARKS

    def marks_of(self, painted: Painted | None, mesh: Mesh) -> Marks:
        """Return the marks by the faces of a scan; may run in a thread.

        Parameters
        ----------
        painted : Painted, optional
            Marks on the map of another scan do not count.
        mesh : Mesh
            The scan.
        """
        faces = np.zeros(len(mesh.faces), dtype=bool)
        if painted is not None and painted.mark == mark_of(mesh):
            faces[painted.source[painted.not_here & (painted.source >= 0)]] = True
        if not faces.any():
            self._last = NO_MARKS
        elif not np.array_equal(faces, self._last.faces):
            self._last = Marks(faces)
        return self._last


def mark_selected(data: bpy.types.Mesh, *, barred: bool) -> int:
    """Mark the selected faces of a map or clear them, show it at once, and return how many.

    Parameters
    ----------
    data : bpy.types.Mesh
        A map, in Object Mode.
    barred : bool
        Whether no cut may cross them from now on.
    """
    selected = np.zeros(len(data.polygons), dtype=bool)
    data.polygons.foreach_get("select", selected)
    selected &= attributes.read(data, names.SOURCE_FACE) >= 0
    marks = np.zeros(len(selected), dtype=bool)
    if names.NOT_HERE in data.attributes:
        marks = attributes.read(data, names.NOT_HERE)
    marks[selected] = barred
    attributes.write(data, names.NOT_HERE, "BOOLEAN", marks)
    data[MODE] = "map"
    show_classes(data)
    data.update()
    return int(selected.sum())
