"""Several pieces in one scene, each with its settings, its numbers and its layout.

The one at work stands in ``scene.riseline``; the others are parked beside it and change places with
it as a whole. A piece is known by pointer: a new name, undo and a saved file change nothing.
"""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from . import results, views
from .migrate import FORM
from .names import SCULPT
from .outdated import OF_THE_PIECE
from .show import own_collection

if TYPE_CHECKING:
    from collections.abc import Iterator

    import bpy


def piece_of(scene: bpy.types.Scene) -> bpy.types.Object | None:
    """Return the piece at work, or None when there is none, or it was deleted from the scene."""
    return _if_in(scene, scene.riseline.piece)


def _if_in(scene: bpy.types.Scene, piece: bpy.types.Object | None) -> bpy.types.Object | None:
    return piece if piece is not None and scene.objects.get(piece.name) == piece else None


def pieces(scene: bpy.types.Scene) -> list[bpy.types.Object]:
    """Return all pieces that are worked on in a scene, the one at work first."""
    every = [scene.riseline.piece, *(one.piece for one in scene.riseline_parked)]
    return [one for one in every if _if_in(scene, one) is not None]


def whole_of(scene: bpy.types.Scene, piece: bpy.types.Object) -> bpy.types.PropertyGroup | None:
    """Return what is stored for a piece, or None for one that is new beside others."""
    if piece_of(scene) in {None, piece}:
        return scene.riseline
    return next((one for one in scene.riseline_parked if one.piece == piece), None)


def work_on(scene: bpy.types.Scene, piece: bpy.types.Object) -> None:
    """Bring a piece to work: the one before is parked with all it has.

    Parameters
    ----------
    scene : bpy.types.Scene
    piece : bpy.types.Object
        A new one begins with the settings of the one before, but for its own size and axis, and
        is seen as a first one is.
    """
    stored = scene.riseline
    if stored.piece == piece:
        return
    is_first = stored.piece is None
    if piece_of(scene) is not None:
        _hide_layout(scene, hidden=True)
        _park(scene)
    number = next((i for i, one in enumerate(scene.riseline_parked) if one.piece == piece), -1)
    if number >= 0:
        copy_group(scene.riseline_parked[number], stored)
        scene.riseline_parked.remove(number)
        _hide_layout(scene, hidden=False)
        views.apply(scene)
    else:
        _begin(stored, piece)
        if not is_first:
            views.show_as_at_first(stored)


def _park(scene: bpy.types.Scene) -> None:
    """Put what is at work aside, and begin with the same settings."""
    forget_gone(scene)
    copy_group(scene.riseline, scene.riseline_parked.add())
    results.clear(scene.riseline.results)
    for name in OF_THE_PIECE:
        scene.riseline.scan.property_unset(name)
    scene.riseline.property_unset("measured")
    scene.riseline.sculpt = ""


def forget_gone(scene: bpy.types.Scene) -> None:
    """Let go of pieces that were deleted from the scene, or they would stay in the file."""
    parked = scene.riseline_parked
    for number in reversed(range(len(parked))):
        if _if_in(scene, parked[number].piece) is None:
            parked.remove(number)
    if piece_of(scene) is None:
        scene.riseline.piece = None


def _begin(stored: bpy.types.PropertyGroup, piece: bpy.types.Object) -> None:
    stored.piece, stored.tour, stored.form = piece, 0, FORM
    stored.sculpt = stored.sculpt or uuid.uuid4().hex


def _hide_layout(scene: bpy.types.Scene, *, hidden: bool) -> None:
    collection = own_collection(scene)
    if collection is not None and SCULPT in collection:
        collection.hide_viewport = collection.hide_render = hidden


def copy_group(source: bpy.types.PropertyGroup, target: bpy.types.PropertyGroup) -> None:
    """Make a group of properties equal to another of the same kind, groups within it included.

    What is only another face of a stored number, or of the view, bears ``SKIP_SAVE``: it is left
    out.
    """
    for prop in _stored(source):
        name = prop.identifier
        if prop.type == "COLLECTION":
            rows = getattr(target, name)
            rows.clear()
            for row in getattr(source, name):
                copy_group(row, rows.add())
        elif prop.type == "POINTER" and prop.is_readonly:
            copy_group(getattr(source, name), getattr(target, name))
        elif source.is_property_set(name):
            setattr(target, name, getattr(source, name))
        else:
            target.property_unset(name)


def _stored(group: bpy.types.PropertyGroup) -> Iterator[bpy.types.Property]:
    for prop in group.bl_rna.properties:
        group_within = prop.type == "POINTER" and prop.is_readonly
        left_out = prop.identifier == "rna_type" or prop.is_skip_save
        if not left_out and (group_within or not prop.is_readonly or prop.type == "COLLECTION"):
            yield prop
