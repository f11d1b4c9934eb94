"""Sentences kept with the scene in both units: the scene may change to the other at any time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ..core.sentences import in_unit
from .lengths import in_inches

if TYPE_CHECKING:
    from collections.abc import Iterable

INCHES = "_inches"


def text_properties(names: Iterable[str]) -> dict[str, Any]:
    """Return new properties for sentences: each in millimetres, and in inches."""
    return {f"{name}{one}": bpy.props.StringProperty() for name in names for one in ("", INCHES)}


def put(group: bpy.types.PropertyGroup, name: str, text: str) -> None:
    """Write a text, and how it reads in inches where the group keeps that."""
    setattr(group, name, text)
    if f"{name}{INCHES}" in group.bl_rna.properties:
        setattr(group, f"{name}{INCHES}", in_unit(text, inches=True))


def shown(scene: bpy.types.Scene, group: bpy.types.PropertyGroup, name: str) -> str:
    """Return a kept text in the unit of the scene; an old file may keep the one only."""
    found: str = getattr(group, f"{name}{INCHES}") if in_inches(scene) else ""
    return found or getattr(group, name)


def shown_text(scene: bpy.types.Scene, text: str) -> str:
    """Return a sentence of core in the unit of the scene."""
    return in_unit(text, inches=in_inches(scene))
