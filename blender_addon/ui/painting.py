"""What the buttons that paint the brush map have in common."""

from __future__ import annotations

import bpy

from ..bridge.paint import paint_selected


def paint(operator: bpy.types.Operator, context: bpy.types.Context, value: int) -> set[str]:
    """Paint the selected faces of the map in Edit Mode, and say how many they were.

    The mesh can be read and written in bulk in Object Mode only: it goes there and comes back.
    """
    data = context.edit_object.data
    bpy.ops.object.mode_set(mode="OBJECT")
    try:
        count = paint_selected(data, value)
    finally:
        bpy.ops.object.mode_set(mode="EDIT")
    if not count:
        operator.report({"WARNING"}, "Select faces of the scan first; closed holes bear no paint")
        return {"CANCELLED"}
    context.scene.riseline.results.repainted = True
    operator.report({"INFO"}, f"{count} faces painted; lay out again for area and rubber")
    return {"FINISHED"}
