"""Settings of core written into a scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .properties import STAGES, setting_fields

if TYPE_CHECKING:
    import bpy

    from ..core.settings import Settings


def write_settings(scene: bpy.types.Scene, settings: Settings) -> None:
    """Set everything for the piece at work; what is as core begins with stays unset.

    Parameters
    ----------
    scene : bpy.types.Scene
    settings : Settings
    """
    for stage in STAGES:
        group, values = getattr(scene.riseline, stage), getattr(settings, stage)
        for field in setting_fields(stage):
            value = getattr(values, field.name)
            if value == field.default:
                group.property_unset(field.name)
            else:
                setattr(group, field.name, value)
