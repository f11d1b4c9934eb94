"""Scene units to millimetres and back, and lengths in the words of the scene."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..core.units import area_text, length_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    import bpy

MM_PER_METRE = 1000.0

AS_BLENDER_COMES = {"METRIC": "METERS", "IMPERIAL": "FEET"}
"""The unit in which a scene shows lengths until somebody chooses another."""

OF_A_RULER = {"METRIC": "MILLIMETERS", "IMPERIAL": "INCHES"}

FAR_TOO_LARGE_MM = 10000.0
"""From here on a size is read in metres: it is a scan in millimetres that was taken for metres."""


def mm_per_unit(scene: bpy.types.Scene) -> float:
    """Return how many mm one unit of the scene is: 1000 unless its unit scale was changed."""
    return MM_PER_METRE * scene.unit_settings.scale_length


def typed_bare(scene: bpy.types.Scene, length_mm: float) -> float | None:
    """Return the number behind a length of a metre and more, where the scene shows metres.

    Who types 152 there reads it off a ruler: it is taken for 152 mm where 152 m cannot be.
    """
    units, metres = scene.unit_settings, length_mm / MM_PER_METRE
    in_metres = units.system == "METRIC" and units.length_unit in {"METERS", "ADAPTIVE"}
    return metres if in_metres and metres >= 1.0 else None


def read_as_on_a_ruler(scene: bpy.types.Scene) -> None:
    """Show lengths in millimetres or inches, where the scene shows what Blender begins with.

    No size changes, and a unit that somebody chose stays.
    """
    units = scene.unit_settings
    if units.length_unit == AS_BLENDER_COMES.get(units.system):
        units.length_unit = OF_A_RULER[units.system]


def shown_length(scene: bpy.types.Scene, length_mm: float) -> str:
    """Return a length in inches when the scene is set to imperial units, else in millimetres."""
    return length_text(length_mm, inches=in_inches(scene))


def shown_area(scene: bpy.types.Scene, area_cm2: float, digits: str = ".1f") -> str:
    """Return an area in square inches when the scene is set to imperial units, else in cm²."""
    return area_text(area_cm2, digits, inches=in_inches(scene))


def in_inches(scene: bpy.types.Scene) -> bool:
    """Tell whether the scene is set to imperial units."""
    return scene.unit_settings.system == "IMPERIAL"


def shown_size(scene: bpy.types.Scene, size_mm: Iterable[float]) -> str:
    """Return width, depth and height in one line, in the unit that the scene is set to."""
    sizes_mm = tuple(size_mm)
    if max(sizes_mm) >= FAR_TOO_LARGE_MM:
        sizes = [f"{one / MM_PER_METRE:.1f} m" for one in sizes_mm]
    else:
        sizes = [shown_length(scene, one) for one in sizes_mm]
    *others, last = sizes
    return " \N{MULTIPLICATION SIGN} ".join([*(one.split()[0] for one in others), last])
