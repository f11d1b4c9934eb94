"""One run of the whole job: gathered from the scene, run without it, and brought back to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ..core.desk.orders import Laying
from ..core.errors import UnusableMeshError
from . import ahead, coating, reading, results, scan_mark, views
from .beds import lay_parts
from .kept import kept
from .leaning import show_pour
from .mesh import read_raw
from .outdated import settings_for
from .paint import read_painted
from .rising import add_rubber, tell_pour
from .sculpts import whole_of, work_on
from .show import show

if TYPE_CHECKING:
    from ..core.case.result import CaseResult
    from ..core.desk.laid import Laid
    from ..core.parts.result import PartsResult
    from ..core.scan.result import ScanResult
    from ..core.watch import Watch


class Job:
    """What a run needs, without a pointer into Blender's data: undo in between may move all of it.

    ``only`` names the one stage whose changed settings count; "" takes all of them.

    Raises
    ------
    RiselineError
        If the scan or a setting cannot be used.
    """

    def __init__(self, context: bpy.types.Context, scan: bpy.types.Object, only: str = "") -> None:
        scene = context.scene
        settings = settings_for(scene, only, whole_of(scene, scan))
        raw = read_raw(scene, scan, context.evaluated_depsgraph_get())
        self._scan_mark = scan_mark.mark_of(raw)
        found = scene.riseline.results
        lean_deg = found.shown_lean_deg, found.shown_towards_deg
        self._order = Laying(raw, read_painted(scene), settings, lean_deg)
        self._scene, self._scan = scene.session_uid, scan.session_uid
        self._ahead: ahead.Ahead | None = None

    def run(self, watch: Watch) -> Laid:
        """Lay out the mold; touches nothing of Blender, so it may run in a thread."""
        laid: Laid = kept.hand.run(kept.desk_of(self._scene, self._scan), self._order, watch)
        return laid

    def show_ahead(self, scan: ScanResult, case: CaseResult, parts: PartsResult) -> None:
        """Show case and parts in place of the last ones, while the rest is looked for."""
        scene = _find(bpy.data.scenes, self._scene)
        piece = _find(scene.objects, self._scan) if scene else None
        if piece is not None and scene.riseline.piece == piece:
            self._ahead = ahead.show(scene, scan, case, parts)

    @property
    def is_ahead(self) -> bool:
        """Whether case and parts are shown ahead."""
        return self._ahead is not None

    def take_back(self) -> None:
        """Show again what stood there before, if anything was shown ahead."""
        scene = _find(bpy.data.scenes, self._scene)
        if scene is not None and self._ahead is not None:
            self._ahead.take_back(scene)
        self._ahead = None

    def bring_back(self, laid: Laid) -> bpy.types.Scene:
        """Put a layout into the scene that it was made for: objects and numbers.

        Raises
        ------
        UnusableMeshError
            If scene or scan were removed meanwhile.
        """
        scene = _find(bpy.data.scenes, self._scene)
        scan = _find(scene.objects, self._scan) if scene else None
        if scene is None or scan is None:
            message = "The scan was removed meanwhile. Select another one and lay out again."
            raise UnusableMeshError(message)
        layout = laid.layout
        work_on(scene, scan)
        place = show(scene, scan, laid)
        kept.add(laid.token, layout)
        results.store(scene.riseline.results, layout, scan.name, laid.token)
        scene.riseline.results.scan_mark = self._scan_mark
        add_rubber(scene, place, layout, laid.upright)
        tell_pour(scene, laid.upright)
        lay_parts(scene)
        reading.store(scene.riseline, layout)
        coating.store(scene.riseline, layout)
        views.apply(scene)
        if laid.leaned is not None:
            show_pour(scene, layout, laid.leaned)
        return scene


def _find(things: bpy.types.bpy_prop_collection, uid: int) -> bpy.types.ID | None:
    return next((one for one in things if one.session_uid == uid), None)
