"""The maker's paint on the brush map: kept by the faces of the scan, through every run."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.bubbles.paint import Paint, painted
from . import attributes, names, scan_faces
from .build import show_classes
from .show import own_objects

if TYPE_CHECKING:
    import bpy

    from ..core.desk.read import Painted


def read_painted(scene: bpy.types.Scene) -> Painted | None:
    """Return what is painted on the map of a scene in Object Mode, or None without a map."""
    for thing in own_objects(scene):
        data = thing.data
        if thing[names.OWN] in names.MAPS and can_be_painted(thing) and names.SCAN_MARK in data:
            return scan_faces.painted(data)
    return None


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
    selected, paint = attributes.selected_of_scan(data), attributes.read(data, names.PAINT)
    paint[selected] = value
    attributes.write(data, names.PAINT, "INT", paint)
    scan_faces.touch(data, names.PAINT, selected)
    prebrush = attributes.read(data, names.PREBRUSH)
    by_face, computed = Paint(paint), attributes.read(data, names.COMPUTED)
    prebrush[selected] = painted(computed, by_face, np.arange(len(paint)))[selected]
    attributes.write(data, names.PREBRUSH, "BOOLEAN", prebrush)
    show_classes(data)
    data.update()
    return int(selected.sum())
