"""When a person is in the middle of something that a result must not be brought into."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ..bridge import names

if TYPE_CHECKING:
    from collections.abc import Iterable

LEAVE_MODE = "Ready: go back to Object Mode"
LET_GO = "Ready: finish what you move"


def hands_full(context: bpy.types.Context) -> str:
    """Tell what has to end before the scene may be changed, or return "" when it may be now.

    Blender keeps pointers to what is edited or dragged: to replace such an object would crash it,
    and a change that is made in Edit Mode cannot be undone.
    """
    if context.mode != "OBJECT" or any(_is_edited(one) for one in bpy.data.objects):
        return LEAVE_MODE
    windows = context.window_manager.windows
    return LET_GO if any(_drags(window.modal_operators) for window in windows) else ""


def _is_edited(thing: bpy.types.Object) -> bool:
    """Tell whether an object of a layout is edited, in whichever scene."""
    return names.OWN in thing and thing.mode != "OBJECT"


def _drags(running: Iterable[bpy.types.Operator]) -> bool:
    """Tell whether Blender's own operators are at it; those of add-ons may run all day.

    One that asks for a file is counted as running while its file selector is open.
    """
    by_python = bpy.types.Operator.bl_rna_get_subclass_py
    return any(by_python(one.bl_idname) is None and not _asks_for_file(one) for one in running)


def _asks_for_file(operator: bpy.types.Operator) -> bool:
    told = operator.properties.bl_rna.properties
    return "filepath" in told or "directory" in told
