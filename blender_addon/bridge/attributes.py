"""Named values on the faces of a Blender mesh, in bulk and back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from . import names

if TYPE_CHECKING:
    import bpy

TYPES = {"BOOLEAN": bool, "INT": np.int32, "FLOAT": np.float32}


def write(data: bpy.types.Mesh, name: str, kind: str, values: np.ndarray) -> None:
    """Write a value for each face, into the attribute of that name or a new one.

    Parameters
    ----------
    data : bpy.types.Mesh
        In Object Mode.
    name : str
        The attribute's.
    kind : str
        One of `TYPES`.
    values : ndarray, shape (m,)
    """
    attribute = data.attributes.get(name) or data.attributes.new(name, kind, "FACE")
    attribute.data.foreach_set("value", np.array(values, dtype=TYPES[kind]))


def read(data: bpy.types.Mesh, name: str) -> np.ndarray:
    """Return the value of each face (m,)."""
    attribute = data.attributes[name]
    values = np.zeros(len(data.polygons), dtype=TYPES[attribute.data_type])
    attribute.data.foreach_get("value", values)
    return values


def selected_of_scan(data: bpy.types.Mesh) -> np.ndarray:
    """Return which faces of a map (m,) are selected and of the scan: what closed it is not."""
    selected = np.zeros(len(data.polygons), dtype=bool)
    data.polygons.foreach_get("select", selected)
    return selected & (read(data, names.SOURCE_FACE) >= 0)
