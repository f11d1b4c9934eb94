"""The maker's marks where no cut may go: kept by the faces of the scan, as the paint is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from . import attributes, names, scan_faces
from .build import show_classes
from .views import MODE

if TYPE_CHECKING:
    import bpy


def mark_selected(data: bpy.types.Mesh, *, barred: bool) -> int:
    """Mark the selected faces of a map or clear them, show it at once, and return how many.

    Parameters
    ----------
    data : bpy.types.Mesh
        A map, in Object Mode.
    barred : bool
        Whether no cut may cross them from now on.
    """
    selected = attributes.selected_of_scan(data)
    marks = np.zeros(len(selected), dtype=bool)
    if names.NOT_HERE in data.attributes:
        marks = attributes.read(data, names.NOT_HERE)
    marks[selected] = barred
    attributes.write(data, names.NOT_HERE, "BOOLEAN", marks)
    scan_faces.touch(data, names.NOT_HERE, selected)
    data[MODE] = "map"
    show_classes(data)
    data.update()
    return int(selected.sum())
