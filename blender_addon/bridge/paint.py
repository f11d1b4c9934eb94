"""The maker's paint on the brush map: kept by the faces of the scan, through every run."""

from __future__ import annotations

import zlib
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


class PaintReader:
    """Reads the paint, and hands back the same one while it is equal: no stage runs again then."""

    def __init__(self) -> None:
        self._last = NO_PAINT

    def read(self, scene: bpy.types.Scene, mesh: Mesh) -> Paint:
        """Return what is painted on the brush map of a scene, by the faces of its scan.

        Parameters
        ----------
        scene : bpy.types.Scene
            Holds the map, in Object Mode, or none.
        mesh : Mesh
            The scan as it was read. Paint on the map of another scan does not count.
        """
        faces = _by_scan_face(_map_of(scene, mark_of(mesh)), len(mesh.faces))
        if not faces.any():
            self._last = NO_PAINT
        elif not np.array_equal(faces, self._last.faces):
            self._last = Paint(faces)
        return self._last


def _map_of(scene: bpy.types.Scene, mark: str) -> bpy.types.Mesh | None:
    maps = (one.data for one in own_objects(scene) if one[names.OWN] in names.MAPS)
    return next((one for one in maps if one.get(names.SCAN_MARK) == mark), None)


def _by_scan_face(data: bpy.types.Mesh | None, count: int) -> np.ndarray:
    """Return the paint of each triangle of the scan (count,), from a map if there is one."""
    faces = np.zeros(count, dtype=np.int64)
    if data is not None and names.PAINT in data.attributes:
        source = attributes.read(data, names.SOURCE_FACE)
        given = source >= 0
        faces[source[given]] = attributes.read(data, names.PAINT)[given]
    return faces


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
