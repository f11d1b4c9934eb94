"""What the piece will measure, before anything runs: and what is asked where that cannot be."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ...bridge.as_scanned import as_scanned
from ...bridge.lengths import mm_per_unit, shown_length, shown_size
from ...bridge.preview import preview
from ...bridge.worded import said_in
from ...core.constants.common import UNITS_MM
from ...core.constants.scan import DOUBTED_MASTER_MM, SMALLEST_MASTER_MM, TALLEST_MASTER_MM
from ...core.scan.settings import AUTO
from ...core.scan.size import MEASURED
from ...core.scan.warn import too_fine
from .. import ids
from ..operators.take_unit import UNSAID
from ..view import redraw
from .drawing import words

if TYPE_CHECKING:
    import bpy

    from ...bridge.preview import Size

AUTO_UP = "Auto takes {} as up. Not so? Name it above, or press Tab and select its base."
ASKED = "Or say what its numbers are:"
DOUBTED = "Is it that small? Else say what its numbers are:"
SMALL = "Is it that small? Else type the unit as well, such as 152mm or 6in."
TYPED = "It would be {}. Type the unit as well, such as 152mm or 6in."
UNSIZED = "As it is, it would be {}: type one true size."


def measure(context: bpy.types.Context, scan: bpy.types.Object) -> Size | None:
    """Return what the piece will measure, or None while that is not known.

    Where no size was typed, the fields of its size show what is found.
    """
    scene = context.scene
    size = preview.size_of(scene, scan, lambda: redraw(context))
    if context.mode == "OBJECT":  # in Edit Mode nothing is measured: what was found stays
        as_scanned.tell(scene, size.size_mm if size and not is_typed(scene) else ())
    return size


def is_typed(scene: bpy.types.Scene) -> bool:
    """Tell whether one size of the piece at work was given."""
    return any(getattr(scene.riseline.scan, name) > 0.0 for name in MEASURED)


def draw_size(
    column: bpy.types.UILayout,
    context: bpy.types.Context,
    scan: bpy.types.Object,
    size: Size | None,
) -> bool:
    """Tell what the piece will measure, and whether it can be molded so."""
    scene = context.scene
    if size is None and preview.trouble:
        words(column, context, said_in(scene, preview.trouble), "ERROR")
        return True
    if size is None:
        if context.mode == "OBJECT":
            column.label(text="Measuring")
        return True
    largest, typed = max(size.size_mm), is_typed(scene)
    if not scene.riseline.results.token:
        _draw_first_sight(column, context, scan, size)
    if not typed:
        _draw_taken_unit(column, scene)
    if SMALLEST_MASTER_MM <= largest <= TALLEST_MASTER_MM:
        text = f"It will be {shown_length(scene, size.size_mm[2])} tall"
        column.label(text=text, icon="CHECKMARK")
        column.label(text=shown_size(scene, size.size_mm), icon="EMPTY_ARROWS")
        if typed and largest < DOUBTED_MASTER_MM:
            words(column, context, SMALL, "ERROR")
        elif largest < DOUBTED_MASTER_MM:
            _draw_units(column.box().column(), context, size, DOUBTED)
        return True
    box = column.box().column()
    warning = box.column()
    warning.alert = True
    text = TYPED if typed else UNSIZED
    words(warning, context, text.format(shown_size(scene, size.size_mm)), "ERROR")
    if not typed:
        _draw_units(box, context, size, ASKED)
    return False


def _draw_first_sight(
    column: bpy.types.UILayout, context: bpy.types.Context, scan: bpy.types.Object, size: Size
) -> None:
    """Tell before a first layout what the panel of the scan tells after it."""
    if context.scene.riseline.scan.up == AUTO:
        words(column, context, AUTO_UP.format(size.up), "EMPTY_SINGLE_ARROW")
    for notice in too_fine(_triangles(context, scan)):
        words(column, context, notice.text, "ERROR")


def _triangles(context: bpy.types.Context, scan: bpy.types.Object) -> int:
    """Return how many a scan has with its modifiers, such as one that thins it."""
    known = context.view_layer.depsgraph
    data = (scan.evaluated_get(known) if known else scan).data
    return len(data.loops) - 2 * len(data.polygons)  # of each face: two fewer than corners


def _draw_taken_unit(column: bpy.types.UILayout, scene: bpy.types.Scene) -> None:
    """Tell which unit the scan's numbers were taken for, and offer the way back."""
    mm = scene.riseline.scan.scale * mm_per_unit(scene)
    for unit, one_mm in UNITS_MM.items():
        if scene.riseline.scan.is_property_set("scale") and math.isclose(mm, one_mm, rel_tol=1e-5):
            row = column.row(align=True)
            row.label(text=f"Its numbers are {unit}", icon="DRIVER_DISTANCE")
            row.operator(ids.TAKE_UNIT, text="", icon="X").unit = UNSAID


def _draw_units(
    box: bpy.types.UILayout, context: bpy.types.Context, size: Size, question: str
) -> None:
    """Offer the units in which the scan would be a piece to mold, each with what that makes it."""
    scene = context.scene
    numbers = [one / mm_per_unit(scene) for one in size.scan_mm]
    likely = {
        unit: mm
        for unit, mm in UNITS_MM.items()
        if DOUBTED_MASTER_MM <= max(numbers) * mm <= TALLEST_MASTER_MM
    }
    if likely:
        words(box, context, question)
    for unit, mm in likely.items():
        text = f"{unit.title()}: {shown_length(scene, numbers[2] * mm)} tall"
        box.operator(ids.TAKE_UNIT, text=text).unit = unit
