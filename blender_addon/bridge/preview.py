"""How large the piece will be: known before anything runs, as soon as one dimension is typed.

It takes a second or two for a fine scan, and runs beside the window.
"""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

from ..core.desk.orders import Measuring
from ..core.desk.read import Raw
from ..core.errors import RiselineError
from ..core.scan.size import true_scale
from ..core.watch import Watch
from .as_scanned import as_scanned
from .kept import kept
from .lengths import mm_per_unit
from .mesh import arrays_of
from .properties import read_stage

if TYPE_CHECKING:
    from collections.abc import Callable

    from ..core.scan.settings import ScanSettings

SECONDS_BETWEEN_LOOKS = 0.1


@dataclass(frozen=True)
class Size:
    """What a piece will measure once it stands: width, depth and height, and the axis up.

    ``scan_mm`` is what it measures as it is in the scene.
    """

    size_mm: tuple[float, float, float]
    up: str
    scan_mm: tuple[float, float, float]


class Preview:
    """Remembers the last piece that was measured; a new one is measured beside the window.

    ``trouble`` says why a piece cannot be measured, as of the last time it was asked for.
    """

    def __init__(self) -> None:
        self.trouble = ""
        self._key: tuple[Any, ...] = ()
        self._found: Future[tuple[np.ndarray, str]] | None = None

    def size_of(
        self, scene: bpy.types.Scene, thing: bpy.types.Object, redraw: Callable[[], None]
    ) -> Size | None:
        """Return the size by the settings at work, or None while it is measured or cannot be.

        Parameters
        ----------
        scene : bpy.types.Scene
        thing : bpy.types.Object
            A mesh; its modifiers do not count here.
        redraw : callable
            Called when the size is known, if it was not at once.
        """
        self.trouble = ""
        if thing.type != "MESH" or thing.mode != "OBJECT":
            return None
        try:
            scan = read_stage(scene, "scan")
        except RiselineError as error:
            self.trouble = str(error)
            return None
        key = _key(scene, thing, scan)
        if key != self._key:
            self._key, self._found = key, _measured(scene, thing, scan)
            if not self._found.done():
                bpy.app.timers.register(lambda: self._wait(redraw))
        if self._found is None or not self._found.done():
            return None
        try:
            size_mm, axis = self._found.result()
            x, y, z = (size_mm * true_scale(size_mm, scan)).tolist()
        except RiselineError as error:
            self.trouble = str(error)
            return None
        wide, deep, tall = size_mm.tolist()
        return Size((x, y, z), axis, (wide, deep, tall))

    def _wait(self, redraw: Callable[[], None]) -> float | None:
        if self._found is not None and not self._found.done():
            return SECONDS_BETWEEN_LOOKS
        redraw()
        return None

    def forget(self) -> None:
        """Drop what was measured: another file is loaded, or the add-on goes."""
        self._key, self._found = (), None
        as_scanned.forget()


preview = Preview()
"""The one there is, until Blender is closed."""


def _key(scene: bpy.types.Scene, thing: bpy.types.Object, scan: ScanSettings) -> tuple[Any, ...]:
    turn = tuple(round(one, 6) for row in thing.matrix_world.to_3x3() for one in row)
    corners = tuple(round(one, 6) for corner in thing.bound_box for one in corner)
    counts = len(thing.data.vertices), len(thing.data.polygons)
    said = scan.up, scan.speck_percent
    return thing.session_uid, counts, turn, corners, mm_per_unit(scene), said


def _measured(
    scene: bpy.types.Scene, thing: bpy.types.Object, scan: ScanSettings
) -> Future[tuple[np.ndarray, str]]:
    """Start to measure; done at once without a window."""
    matrix = np.array(thing.matrix_world, dtype=np.float64)
    matrix[:3] *= mm_per_unit(scene)
    order = Measuring(Raw(*arrays_of(thing.data), matrix), scan)
    desk = kept.desk_of(scene.session_uid, thing.session_uid)
    with_one_thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="riseline-size")
    found = with_one_thread.submit(kept.hand.run, desk, order, Watch())
    with_one_thread.shutdown(wait=bpy.app.background)
    return found
