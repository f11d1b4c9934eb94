"""When a button can be pressed, and why not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..bridge import names
from ..bridge.kept import kept
from ..bridge.paint import can_be_painted
from ..bridge.sculpts import piece_of
from ..bridge.shelf import own_preferences

if TYPE_CHECKING:
    import bpy

WITH_FACES = {"MESH", "CURVE", "SURFACE", "META", "FONT"}

BUSY = "Wait for the end of the work that goes on, or press Esc to stop it"


def chosen_scan(context: bpy.types.Context) -> bpy.types.Object | None:
    """Return the object to lay out: the one selected, else the one that was laid out last."""
    active = context.view_layer.objects.active
    if active is not None and active.select_get() and is_scan(active):
        return active
    piece = piece_of(context.scene)
    if piece is not None and context.view_layer.objects.get(piece.name) == piece:
        return piece
    return context.view_layer.objects.get(context.scene.riseline.results.source)


def scan_at_work(context: bpy.types.Context) -> bpy.types.Object | None:
    """Return the piece at work, whatever else is selected; without one, the object selected."""
    piece = piece_of(context.scene)
    if piece is not None and context.view_layer.objects.get(piece.name) == piece:
        return piece
    return chosen_scan(context)


def is_scan(thing: bpy.types.Object) -> bool:
    """Tell whether an object could be a piece: it has faces, and is not of our making."""
    return thing.type in WITH_FACES and names.OWN not in thing


def can_lay_out(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether there is a scan and nothing runs."""
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    elif context.mode != "OBJECT":
        operator.poll_message_set("Go back to Object Mode first")
    elif (scan := chosen_scan(context)) is None:
        operator.poll_message_set("Select the scan of the piece first: an object with faces")
    elif scan.hide_viewport:  # Blender keeps neither its modifiers nor where it stands
        operator.poll_message_set("Enable the scan in the viewports first, in the Outliner")
    else:
        return True
    return False


def has_layout(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether there is a layout in memory to export."""
    token = context.scene.riseline.results.token
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    elif not token:
        operator.poll_message_set("Lay out the mold first")
    elif kept.layout(token) is None:
        operator.poll_message_set("Lay out the mold again: parts are not saved with the file")
    else:
        return True
    return False


def shows_layout(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether there is something to remove."""
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    elif not context.scene.riseline.results.token:
        operator.poll_message_set("Lay out the mold first: this scene holds no layout yet")
    else:
        return True
    return False


def can_paint(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether a brush map is in Edit Mode."""
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    elif not context.scene.riseline.results.token:
        operator.poll_message_set(
            "Lay out the mold first: the faces to select are on its brush map"
        )
    elif context.mode != "EDIT_MESH" or context.edit_object.get(names.OWN) not in names.MAPS:
        operator.poll_message_set("Select the Brush Map, press Tab, and select faces of it")
    elif not can_be_painted(context.edit_object):
        operator.poll_message_set("Go back to Object Mode and lay out the mold again first")
    else:
        return True
    return False


def can_pick_base(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether a scan is in Edit Mode, to pick what it stands on."""
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    elif context.mode != "EDIT_MESH" or not is_scan(context.edit_object):
        operator.poll_message_set("Select the scan, press Tab, and select the faces of its base")
    else:
        return True
    return False


def is_free(operator: type[bpy.types.Operator], _context: bpy.types.Context) -> bool:
    """Tell whether nothing runs."""
    if kept.work is not None:
        operator.poll_message_set(BUSY)
    return kept.work is None


def has_preferences(operator: type[bpy.types.Operator], _context: bpy.types.Context) -> bool:
    """Tell whether Blender knows us as an add-on, so that there are lists to edit."""
    if own_preferences() is None:
        operator.poll_message_set("Enable the add-on in the preferences first")
        return False
    return True


def has_tube(operator: type[bpy.types.Operator], context: bpy.types.Context) -> bool:
    """Tell whether a tube of the list is chosen."""
    if not has_preferences(operator, context):
        return False
    own = own_preferences()
    if own.tube >= len(own.tubes):
        operator.poll_message_set("Add a tube to your list first")
        return False
    return True
