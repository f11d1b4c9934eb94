"""Another case of the list, at a click."""

from __future__ import annotations

import bpy

from ...core.case.case import AUTOMATIC, STOCK
from .. import ids, polls

_KIND = bpy.props.StringProperty(
    name="Kind",
    description="A tube from stock, or which printed case",
    default=AUTOMATIC,
    options={"SKIP_SAVE"},
)
_TUBE = bpy.props.StringProperty(
    name="Tube",
    description="Which tube of the list; empty takes the narrowest that does",
    options={"SKIP_SAVE"},
)


class TakeCase(bpy.types.Operator):
    """Take this case, and lay out again what hangs on it; it stays until you pick another"""

    bl_idname = ids.TAKE_CASE
    bl_label = "Take Case"
    bl_options = {"REGISTER", "UNDO", "INTERNAL"}
    poll = classmethod(polls.can_lay_out)
    kind: _KIND
    tube: _TUBE

    def execute(self, context: bpy.types.Context) -> set[str]:
        picked = context.scene.riseline.case
        of_stock = self.kind == STOCK
        picked.kind = AUTOMATIC if of_stock else self.kind
        picked.tube = self.tube if of_stock else ""
        bpy.ops.riseline.lay_out("INVOKE_DEFAULT", only="case")
        return {"FINISHED"}
