"""One run of the whole job: gathered from the scene, run without it, and brought back to it."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

import bpy

from ..core.errors import UnusableMeshError
from . import coating, reading, results, views
from .beds import lay_parts
from .kept import kept
from .leaning import show_pour
from .mesh import read_raw
from .outdated import settings_for
from .paint import mark_of, read_painted
from .place import eye_direction
from .properties import read_settings
from .rising import add_rubber, pour_of, tell_pour
from .sculpts import whole_of, work_on
from .show import of_faces, show

if TYPE_CHECKING:
    from ..core.layout import Layout
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
        self._desk = kept.desk(scene, scan)
        self._settings = settings_for(scene, only, whole_of(scene, scan))
        self._raw = read_raw(scene, scan, context.evaluated_depsgraph_get())
        self._painted = read_painted(scene)
        found = scene.riseline.results
        self._lean = (found.shown_lean_deg, found.shown_towards_deg)
        self._scene, self._scan = scene.session_uid, scan.session_uid

    def run(self, watch: Watch) -> Layout:
        """Lay out the mold; touches nothing of Blender, so it may run in a thread."""
        pipeline = import_module("..core.pipeline", __package__)
        mesh = self._desk.meshes.mesh_of(self._raw)
        self._paint = self._desk.paint.paint_of(self._painted, mesh)
        self._marks = self._desk.marks.marks_of(self._painted, mesh)
        layout = pipeline.lay_out(
            mesh, self._settings, self._desk.memo, watch, self._paint, self._marks
        )
        self._upright = pour_of(layout)
        self._faces = of_faces(layout, mark_of(mesh))
        self._leaned = pour_of(layout, *self._lean) if self._lean[0] > 0.0 else None
        eye_direction(layout)  # what a master tells of itself is worked out here, not in the window
        return layout

    def bring_back(self, layout: Layout) -> bpy.types.Scene:
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
        work_on(scene, scan)
        place = show(scene, scan, layout, (self._paint, self._marks), self._faces)
        results.store(scene.riseline.results, layout, scan.name, kept.add(layout))
        add_rubber(scene, place, layout, self._upright)
        tell_pour(scene, self._upright)
        lay_parts(scene)
        reading.store(scene.riseline, layout)
        coating.store(scene.riseline, layout)
        views.apply(scene)
        if self._leaned is not None:
            show_pour(scene, layout, self._leaned)
        return scene


def _find(things: bpy.types.bpy_prop_collection, uid: int) -> bpy.types.ID | None:
    return next((one for one in things if one.session_uid == uid), None)


def export(scene: bpy.types.Scene, folder: str) -> None:
    """Write the layout of a scene into a folder, whole or not at all.

    Raises
    ------
    RiselineError
        If the folder cannot be written.
    """
    stored = scene.riseline.results
    writer = import_module("..core.job", __package__)
    writer.write_job(kept.layout(stored.token), stored.source, folder)


def write_sheets(scene: bpy.types.Scene, folder: str) -> None:
    """Write job sheet and templates of a scene into a folder, on the paper chosen now.

    Raises
    ------
    RiselineError
        If the folder cannot be written.
    """
    stored = scene.riseline.results
    writer = import_module("..core.job_sheets", __package__)
    settings = read_settings(scene).sheet
    writer.write_sheet_folder(kept.layout(stored.token), stored.source, folder, settings)
    stored.sheets_at = str(folder)
