"""The materials of the layout: found again by our mark, made when missing."""

from __future__ import annotations

import bpy

from ..core.pictures.classes import CLASS_COLORS, THICKNESS_COLORS
from . import names

COLORS = {
    **{kind: (*color, 1.0) for kind, color in CLASS_COLORS.items()},
    **{kind: (*color, 1.0) for kind, color in THICKNESS_COLORS.items()},
    "Solid Case": (0.55, 0.70, 0.80, 1.0),
    "Case": (0.55, 0.70, 0.80, 0.16),
    "Funnel": (0.35, 0.55, 0.40, 0.45),
    "Rubber": (0.85, 0.50, 0.10, 0.45),
    "Board": (0.25, 0.25, 0.27, 1.0),
    "Not Here": (0.015, 0.015, 0.02, 1.0),
    "Web": (0.75, 0.12, 0.02, 0.80),
    "Stream": (0.95, 0.75, 0.10, 0.35),
    "Knife": (0.05, 0.55, 0.30, 0.60),
}
"""Linear red, green, blue and alpha; those of the brush map are core's, as in the pictures."""

OF_ROLE = {
    names.SLIT_ROLE: "Knife",
    names.WEB_ROLE: "Web",
    names.STREAM_ROLE: "Stream",
    "case": "Case",
    "funnel": "Funnel",
    "base": "Board",
    "riser": "Board",
    "guide": "Knife",
}


def find(kind: str) -> bpy.types.Material | None:
    """Return our material of a kind, or None while there is none."""
    return next((one for one in bpy.data.materials if one.get(names.OWN) == kind), None)


def get(kind: str) -> bpy.types.Material:
    """Return our material of a kind; one that the user recoloured keeps the user's colour."""
    material = find(kind)
    if material is None:
        material = bpy.data.materials.new(f"{names.COLLECTION} {kind}")
        material[names.OWN] = kind
        material.diffuse_color = COLORS[kind]
        _color_nodes(material, COLORS[kind])
    return material


def _color_nodes(material: bpy.types.Material, color: tuple[float, float, float, float]) -> None:
    """Give renders the colour that the solid view shows."""
    if bpy.app.version < (5, 0):  # from 5.0 on there are always nodes
        material.use_nodes = True
    shader = material.node_tree.nodes.get("Principled BSDF")
    if shader is not None:
        shader.inputs["Base Color"].default_value = color
        shader.inputs["Alpha"].default_value = color[3]


def remove_unused() -> None:
    """Remove our materials that nothing uses."""
    for material in [one for one in bpy.data.materials if names.OWN in one and not one.users]:
        bpy.data.materials.remove(material)
