"""What of a layout is seen: one switch each, kept with the piece and the file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

from . import attributes, build, materials, names
from .rising import raise_rubber
from .show import own_objects

if TYPE_CHECKING:
    from collections.abc import Iterable

SWITCHES = {
    "map": ("Brush Map", True, "Color what traps air, holds bubbles or is to be brushed"),
    "thickness": ("Rubber Thickness", False, "Color the piece by how far the case is away"),
    "air": ("Trapped Air", False, "Show all bodies of trapped air, whatever the rubber's level"),
    "rubber": ("Rising Rubber", True, "Show the rubber in the case up to the level of the slider"),
    "stream": ("Stream", True, "Show where the rubber falls clear of the piece"),
    "case": ("Case", True, "Show the case"),
    "xray": ("X-Ray", True, "Look through the case at the piece"),
    "cut": ("Cut", True, "Show the slit as a ribbon from the piece to the outside"),
    "parts": ("Other Parts", True, "Show base board, riser, funnel and what else is printed"),
}
"""Each with its label, whether it is on at first, and its tool-tip."""

SEEN_BESIDE = ("rubber_level", "parts_lie", "show_fill_curve", "show_stretch_curve")
"""What else of a piece is looked at: it begins anew with the next one, as the switches do."""

NOT_PARTS = {
    names.MASTER_ROLE, names.MAP_ROLE, *names.CUTS, names.STREAM_ROLE, names.RUBBER_ROLE,
    names.AIR_ROLE,
}  # fmt: skip

BAND_LIMITS = (1.0, 1.5, 2.5)
"""Of the rubber's thickness, in shares of the least that was asked for."""

CASE_ROLE = "case"
MODE = "riseline_shown"
"""Custom property of the master's mesh: what its colours tell at the moment."""


def properties() -> dict[str, Any]:
    """Return a new property for each switch, by name."""
    return {
        f"show_{key}": bpy.props.BoolProperty(
            name=label,
            description=tip,
            default=on,
            update=lambda whole, _context: apply(whole.id_data),
        )
        for key, (label, on, tip) in SWITCHES.items()
    }


def show_as_at_first(whole: bpy.types.PropertyGroup) -> None:
    """Let what is seen of a piece be what a first one shows.

    Parameters
    ----------
    whole : bpy.types.PropertyGroup
        What is stored for the piece.
    """
    for name in (*(f"show_{key}" for key in SWITCHES), *SEEN_BESIDE):
        whole.property_unset(name)


def set_shown(scene: bpy.types.Scene, shown: Iterable[str]) -> None:
    """Turn some switches on and the others off; how one looks at the case stays."""
    for key in SWITCHES:
        if key != "xray":
            setattr(scene.riseline, f"show_{key}", key in shown)


def apply(scene: bpy.types.Scene) -> None:
    """Show and hide the objects of the layout at work by the switches."""
    stored = scene.riseline
    raise_rubber(scene)
    for thing in own_objects(scene):
        role = thing[names.OWN]
        if role == names.MASTER_ROLE:
            color_master(stored, thing.data)
        elif role == names.MAP_ROLE:
            _hide(thing, hidden=not stored.show_map and not stored.show_thickness)
        elif role in names.CUTS:
            _hide(thing, hidden=not stored.show_cut)
        elif role == names.STREAM_ROLE:
            _hide(thing, hidden=not stored.show_stream)
        elif role == names.RUBBER_ROLE and not stored.show_rubber:
            _hide(thing, hidden=True)
        elif role == names.AIR_ROLE and stored.show_air:
            _hide(thing, hidden=False)
        elif role == CASE_ROLE:
            _hide(thing, hidden=not stored.show_case)
            kind = "Case" if stored.show_xray else "Solid Case"
            thing.data.materials[0] = materials.get(kind)
        elif role not in NOT_PARTS:
            _hide(thing, hidden=not stored.show_parts)


def _hide(thing: bpy.types.Object, *, hidden: bool) -> None:
    thing.hide_viewport = thing.hide_render = hidden


def mode_of(stored: bpy.types.PropertyGroup) -> str:
    """Return what the colours of the piece tell: "thickness", "map" or nothing."""
    return "thickness" if stored.show_thickness else "map" if stored.show_map else ""


def color_master(stored: bpy.types.PropertyGroup, data: bpy.types.Mesh) -> None:
    """Give each face of the master the colour that is asked for, if it has another."""
    mode = mode_of(stored)
    if data.get(MODE, "map") == mode or names.RUBBER_MM not in data.attributes:
        return
    data[MODE] = mode
    if mode == "map":
        build.show_classes(data)
        return
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    if mode == "thickness":
        limits_mm = np.array(BAND_LIMITS) * data[names.LEAST_RUBBER_MM]
        bands = np.searchsorted(limits_mm, attributes.read(data, names.RUBBER_MM), side="right")
        slots[:] = len(names.CLASSES) + bands
    attributes.write(data, names.MATERIAL, "INT", slots)
    data.update()
