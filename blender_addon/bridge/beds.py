"""The parts as they lie on the printer: beside the case, each print bed with its outline."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import bpy
import numpy as np
from mathutils import Matrix

from . import build, names
from .kept import kept
from .leaning import upright_place
from .lengths import mm_per_unit
from .place import eye_direction
from .show import add_object, own_collection, own_objects

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from ..core.layout import Layout

ASSEMBLED, ON_BEDS = "assembled", names.ON_BEDS
APART_MM = 60.0
"""Between the case and the beds, and from bed to bed: the eye tells them apart."""


def choice_of_place(on_parts: Callable[[bpy.types.Context], None]) -> Any:
    """Return a new property: where the parts are shown; told of when they lie there."""

    def update(whole: bpy.types.PropertyGroup, context: bpy.types.Context) -> None:
        lay_parts(whole.id_data)
        on_parts(context)

    return bpy.props.EnumProperty(
        name="Parts Are Shown",
        description="Where the parts to print are shown",
        items=[
            (ASSEMBLED, "Assembled", "Each part at its place round the piece"),
            (ON_BEDS, "On the Print Bed", "Each part as it lies in its file, ready to print"),
        ],
        update=update,
    )


def lay_parts(scene: bpy.types.Scene) -> None:
    """Put the parts of the layout at work where they are to be shown; nothing is computed again."""
    layout = kept.layout(scene.riseline.results.token)
    things = {one[names.PART]: one for one in own_objects(scene) if names.PART in one}
    master = next((one for one in own_objects(scene) if one[names.OWN] == names.MASTER_ROLE), None)
    _remove_beds(scene)
    if layout is None or master is None:
        return
    on_beds = scene.riseline.parts_lie == ON_BEDS
    place = upright_place(scene, layout, master) if on_beds else master.matrix_basis
    for part, at in zip(layout.parts.parts, _on_beds(scene, layout), strict=True):
        if part.name in things:
            moved = at if on_beds else Matrix.Identity(4)
            things[part.name].matrix_world = place @ moved
    if on_beds:
        _add_beds(scene, layout, place)


def _on_beds(scene: bpy.types.Scene, layout: Layout) -> list[Matrix]:
    """Return for each part what takes it from its place in the job frame onto its bed."""
    per_mm = 1.0 / mm_per_unit(scene)
    turns = []
    for part, (bed, x, y) in zip(layout.parts.parts, layout.parts.bed_places_mm, strict=True):
        down = np.linalg.inv(part.to_assembly)
        down[:3, 3] = (down[:3, 3] + _bed_at_mm(layout, bed) + [x, y, 0.0]) * per_mm
        turns.append(Matrix(down.tolist()))
    return turns


def _bed_at_mm(layout: Layout, bed: int) -> np.ndarray:
    """Return where the middle of a bed is in the job frame: right of the case, in square rows."""
    settings, case = layout.settings.parts, layout.case
    eye = np.array(eye_direction(layout))
    right = np.array([-eye[1], eye[0], 0.0])
    size = np.array([settings.bed_x_mm, settings.bed_y_mm, 0.0])
    wide, deep = np.abs(right) @ size + APART_MM, np.abs(eye) @ size + APART_MM
    beds = 1 + max(one for one, *_ in layout.parts.bed_places_mm)
    row, column = divmod(bed, math.ceil(math.sqrt(beds)))
    first = case.bore.reach_mm + case.wall_mm + settings.flange_mm + (wide + APART_MM) / 2.0
    at: np.ndarray = right * (first + column * wide) - eye * row * deep
    at[2] = -settings.board_mm
    return at


def _add_beds(scene: bpy.types.Scene, layout: Layout, place: Matrix) -> None:
    collection, settings = own_collection(scene), layout.settings.parts
    per_mm = 1.0 / mm_per_unit(scene)
    x, y = settings.bed_x_mm / 2.0, settings.bed_y_mm / 2.0
    corners = np.array([[-x, -y, 0.0], [x, -y, 0.0], [x, y, 0.0], [-x, y, 0.0]])
    for bed in sorted({one for one, *_ in layout.parts.bed_places_mm}):
        data = build.new_frame("Print Bed", (corners + _bed_at_mm(layout, bed)) * per_mm)
        add_object(collection, data, names.BED_ROLE, place)


def _remove_beds(scene: bpy.types.Scene) -> None:
    for thing in own_objects(scene):
        if thing[names.OWN] == names.BED_ROLE:
            data = thing.data
            bpy.data.objects.remove(thing)
            bpy.data.meshes.remove(data)
