"""One part of a layout as a file."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from .kept import kept

if TYPE_CHECKING:
    import bpy


def export_part(scene: bpy.types.Scene, name: str, file: str) -> None:
    """Write one part of the layout of a scene into a file, whole or not at all.

    Raises
    ------
    RiselineError
        If there is no such part, or the file cannot be written.
    """
    writer = import_module("..core.job_parts", __package__)
    writer.write_part(file, kept.layout(scene.riseline.results.token).parts, name)


def part_file(scene: bpy.types.Scene, name: str) -> str:
    """Return what the file of a part is called, without its ending."""
    parts = kept.layout(scene.riseline.results.token).parts
    stems = import_module("..core.job_parts", __package__).part_stems(parts)
    return next(
        stem.rpartition("/")[2]
        for stem, part in zip(stems, parts.parts, strict=True)
        if part.name == name
    )
