"""Whether the scan is still the one that was laid out: a cheap mark of its shape and how it stands.

The shape is read only after Blender told that it changed; how it stands is looked at each time. A
scan that was shifted is the same: no number hangs on where in the scene it is.
"""

from __future__ import annotations

import zlib
from typing import TYPE_CHECKING

import bpy
import numpy as np
from bpy.app.handlers import persistent

from ..core.errors import UnusableMeshError
from .lengths import mm_per_unit
from .mesh import read_raw

if TYPE_CHECKING:
    from ..core.desk.read import Raw

NO_FACES = "no faces"

DIGITS = 6
"""A turn and its way back differ by less; what is seen on a piece is more."""


def shape_mark(raw: Raw) -> str:
    """Return what tells one shape from another, in the object's own frame."""
    sums = (zlib.crc32(np.ascontiguousarray(one)) for one in (raw.vertices, raw.faces))
    return f"{len(raw.faces)}/" + "/".join(f"{one:08x}" for one in sums)


def stand_mark(matrix_mm: np.ndarray) -> str:
    """Return how an object stands: turned and scaled to mm, wherever that is; matrix (4, 4)."""
    turn = matrix_mm[:3, :3]
    most = max(float(np.abs(turn).max()), np.finfo(float).tiny)
    shares = np.round(turn / most, DIGITS) + 0.0  # no minus before a nought
    return f"{most:.{DIGITS}g} " + " ".join(f"{one:g}" for one in shares.ravel())


def mark_of(raw: Raw) -> str:
    """Return the mark of a scan as it was read."""
    return f"{shape_mark(raw)} {stand_mark(raw.matrix)}"


class ScanMarks:
    """Remembers the shape of each scan until Blender tells that it changed."""

    def __init__(self) -> None:
        self._shapes: dict[int, str] = {}

    def now(self, scene: bpy.types.Scene, scan: bpy.types.Object) -> str | None:
        """Return the mark of a scan as it is, or None while it cannot be told.

        That is in another mode than Object Mode, in another scene than the window's, and while the
        scan is disabled in the views.
        """
        if scene != bpy.context.scene or scan.mode != "OBJECT" or scan.hide_viewport:
            return None
        if scan.session_uid not in self._shapes:
            self._shapes[scan.session_uid] = _shape_of(scene, scan)
        matrix = np.array(scan.matrix_world, dtype=np.float64) * mm_per_unit(scene)
        return f"{self._shapes[scan.session_uid]} {stand_mark(matrix)}"

    def hear(self, depsgraph: bpy.types.Depsgraph) -> None:
        """Forget the shapes that Blender has just made anew."""
        for update in depsgraph.updates:
            if update.is_updated_geometry and isinstance(update.id, bpy.types.Object):
                self._shapes.pop(update.id.original.session_uid, None)

    def forget(self) -> None:
        """Forget all of them."""
        self._shapes.clear()


def _shape_of(scene: bpy.types.Scene, scan: bpy.types.Object) -> str:
    try:
        return shape_mark(read_raw(scene, scan, bpy.context.evaluated_depsgraph_get()))
    except UnusableMeshError:
        return NO_FACES


scan_marks = ScanMarks()
"""The one there is, until Blender is closed."""


@persistent
def _hear(_scene: bpy.types.Scene, depsgraph: bpy.types.Depsgraph) -> None:
    scan_marks.hear(depsgraph)


@persistent
def _forget(*_: object) -> None:
    scan_marks.forget()


LISTENERS = (
    ("depsgraph_update_post", _hear),
    ("undo_post", _forget),
    ("redo_post", _forget),
    ("load_pre", _forget),
)
"""What Blender is to call, and when: names of its lists of handlers."""
