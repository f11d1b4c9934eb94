"""Where no cut may go."""

from __future__ import annotations

import bpy

from ...bridge.marks import mark_selected
from .. import ids, polls


class MarkNotHere(bpy.types.Operator):
    """Never cut across the selected faces of the piece"""

    bl_idname = ids.MARK_NOT_HERE
    bl_label = "No Cut Here"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_paint)

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _mark(self, context, barred=True)


class ClearNotHere(bpy.types.Operator):
    """Let cuts cross the selected faces again"""

    bl_idname = ids.CLEAR_NOT_HERE
    bl_label = "Cut Here Again"
    bl_options = {"REGISTER", "UNDO"}
    poll = classmethod(polls.can_paint)

    def execute(self, context: bpy.types.Context) -> set[str]:
        return _mark(self, context, barred=False)


def _mark(operator: bpy.types.Operator, context: bpy.types.Context, *, barred: bool) -> set[str]:
    """Mark in bulk, which Object Mode alone allows, and come back to Edit Mode."""
    data = context.edit_object.data
    bpy.ops.object.mode_set(mode="OBJECT")
    try:
        count = mark_selected(data, barred=barred)
    finally:
        bpy.ops.object.mode_set(mode="EDIT")
    if not count:
        operator.report({"WARNING"}, "Select faces of the scan first; closed holes bear no marks")
        return {"CANCELLED"}
    context.scene.riseline.results.remarked = True
    word = "barred" if barred else "free again"
    operator.report({"INFO"}, f"{count} faces {word}; lay out again for the cut")
    return {"FINISHED"}
