"""The maker's paint on the brush map: kept by the faces of the scan, through every run."""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..core.bubbles.paint import NO_PAINT, Paint, painted
from . import attributes, names
from .build import show_classes
from .show import own_objects

if TYPE_CHECKING:
    import bpy

    from ..core.geometry.mesh import Mesh


def mark_of(mesh: Mesh) -> str:
    """Return what tells a scan from others: its triangles, wherever its vertices were moved."""
    return f"{len(mesh.faces)}-{zlib.crc32(mesh.faces.tobytes()):08x}"


@dataclass(frozen=True, eq=False)
class Painted:
    """The paint of a map: the mark of its scan; of each face the scan's triangle, and the paint.

    ``not_here`` are the faces that no cut may cross.
    """

    mark: str
    source: np.ndarray
    paint: np.ndarray
    not_here: np.ndarray


def read_painted(scene: bpy.types.Scene) -> Painted | None:
    """Return what is painted on the map of a scene in Object Mode, or None without a map."""
    for thing in own_objects(scene):
        data = thing.data
        if thing[names.OWN] in names.MAPS and can_be_painted(thing) and names.SCAN_MARK in data:
            source = attributes.read(data, names.SOURCE_FACE)
            paint, barred = attributes.read(data, names.PAINT), np.zeros(len(source), dtype=bool)
            if names.NOT_HERE in data.attributes:  # a map of an older version has none
                barred = attributes.read(data, names.NOT_HERE)
            return Painted(data[names.SCAN_MARK], source, paint, barred)
    return None


class PaintReader:
    """Makes paint of what was read, the same one while it is equal: no stage runs again then."""

    def __init__(self) -> None:
        self._last = NO_PAINT

    def paint_of(self, painted: Painted | None, mesh: Mesh) -> Paint:
        """Return the paint by the faces of a scan; may run in a thread.

        Parameters
        ----------
        painted : Painted, optional
            Paint on the map of another scan does not count.
        mesh : Mesh
            The scan.
        """
        faces = np.zeros(len(mesh.faces), dtype=np.int64)
        if painted is not None and painted.mark == mark_of(mesh):
            given = painted.source >= 0
            faces[painted.source[given]] = painted.paint[given]
        if not faces.any():
            self._last = NO_PAINT
        elif not np.array_equal(faces, self._last.faces):
            self._last = Paint(faces)
        return self._last


def can_be_painted(thing: bpy.types.Object | None) -> bool:
    """Tell whether an object is a brush map that bears what painting needs."""
    if thing is None or thing.get(names.OWN) not in names.MAPS:
        return False
    needed = (names.PAINT, names.SOURCE_FACE, names.COMPUTED)
    return all(name in thing.data.attributes for name in needed)


def paint_selected(data: bpy.types.Mesh, value: int) -> int:
    """Paint the selected faces of a map, show it at once, and return how many faces it were.

    Parameters
    ----------
    data : bpy.types.Mesh
        A map, in Object Mode.
    value : int
        Core's `ADDED` or `ERASED`, or 0 to take paint off.
    """
    selected = np.zeros(len(data.polygons), dtype=bool)
    data.polygons.foreach_get("select", selected)
    source, paint = (attributes.read(data, name) for name in (names.SOURCE_FACE, names.PAINT))
    selected &= source >= 0  # what closing the scan added is never painted
    paint[selected] = value
    attributes.write(data, names.PAINT, "INT", paint)
    by_face = Paint(paint)
    prebrush = painted(attributes.read(data, names.COMPUTED), by_face, np.arange(len(paint)))
    attributes.write(data, names.PREBRUSH, "BOOLEAN", prebrush)
    show_classes(data)
    data.update()
    return int(selected.sum())
