"""The maker's paint on the brush map: kept by the faces of the scan, through every run."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.bubbles.paint import Paint, painted
from ..core.desk.read import Painted
from . import attributes, names
from .build import show_classes
from .show import own_objects

if TYPE_CHECKING:
    import bpy


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
    by_face = Paint(paint)
    prebrush = painted(attributes.read(data, names.COMPUTED), by_face, np.arange(len(paint)))
    attributes.write(data, names.PREBRUSH, "BOOLEAN", prebrush)
    show_classes(data)
    data.update()
    return int(selected.sum())
