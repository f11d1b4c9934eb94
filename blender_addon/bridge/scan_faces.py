"""The triangles of a fine scan behind the faces of a map that stand for several of them each.

The maker's paint and marks are kept for every one of them: another lighter mesh, or none, shows
what was painted as exactly as it was. What is painted since then is told by the faces alone: undo
in Edit Mode takes back nothing else.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.desk.picture import unpacked
from ..core.desk.read import Painted
from . import attributes, names

if TYPE_CHECKING:
    import bpy

    from ..core.desk.picture import Picture

KEPT = {names.PAINT: names.SCAN_PAINT, names.NOT_HERE: names.SCAN_NOT_HERE}
TOUCHED = {names.PAINT: names.REPAINTED, names.NOT_HERE: names.REMARKED}


def keep(data: bpy.types.Mesh, picture: Picture) -> None:
    """Keep with a map what its faces stand for; nothing where each is a triangle by itself."""
    if not picture.stands:
        return
    data[names.STANDS] = picture.stands
    data[names.SCAN_PAINT] = picture.scan_paint
    data[names.SCAN_NOT_HERE] = picture.scan_not_here
    for name in TOUCHED.values():
        attributes.write(data, name, "BOOLEAN", np.zeros(len(data.polygons), dtype=bool))


def touch(data: bpy.types.Mesh, name: str, selected: np.ndarray) -> None:
    """Say that the selected faces (k,) of a map were painted or marked since it was made.

    Parameters
    ----------
    data : bpy.types.Mesh
        A map; one whose faces stand for nothing else needs no telling.
    name : str
        `names.PAINT` or `names.NOT_HERE`.
    selected : ndarray, shape (k,)
    """
    if names.STANDS in data:
        touched = attributes.read(data, TOUCHED[name]) | selected
        attributes.write(data, TOUCHED[name], "BOOLEAN", touched)


def painted(data: bpy.types.Mesh) -> Painted:
    """Return the paint of a map by the triangles of its scan."""
    if names.STANDS in data:
        paint, barred = _on_scan(data, names.PAINT), _on_scan(data, names.NOT_HERE)
        return Painted(data[names.SCAN_MARK], np.arange(len(paint)), paint, barred.astype(bool))
    source = attributes.read(data, names.SOURCE_FACE)
    paint, barred = attributes.read(data, names.PAINT), np.zeros(len(source), dtype=bool)
    if names.NOT_HERE in data.attributes:  # a map of an older version has none
        barred = attributes.read(data, names.NOT_HERE)
    return Painted(data[names.SCAN_MARK], source, paint, barred)


def _on_scan(data: bpy.types.Mesh, name: str) -> np.ndarray:
    """Return what is kept of each triangle (n,), and in its place what its face got since then."""
    values, source = unpacked(data[KEPT[name]], np.int8), attributes.read(data, names.SOURCE_FACE)
    touched = attributes.read(data, TOUCHED[name]) & (source >= 0)
    if not touched.any():
        return values
    stands = unpacked(data[names.STANDS], np.int32)
    is_new = np.zeros(len(stands) + 1, dtype=bool)  # the last one is for -1, which none is
    is_new[source[touched]] = True
    new = np.zeros(len(stands), dtype=np.int8)
    new[source[touched]] = attributes.read(data, name)[touched]
    changed = is_new[stands]
    values[changed] = new[stands[changed]]
    return values
