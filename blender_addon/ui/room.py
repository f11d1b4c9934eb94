"""What of a 3D view is seen beside the tool bar and the sidebar, which lie over it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

if TYPE_CHECKING:
    from collections.abc import Iterable


HEADS = {"HEADER", "TOOL_HEADER"}


def clear_px(regions: Iterable[bpy.types.Region]) -> tuple[float, float]:
    """Return from where to where, from the view's left edge, nothing lies over it.

    Parameters
    ----------
    regions : iterable of bpy.types.Region
        Of one 3D view.
    """
    by_type = {one.type: one.width for one in regions}
    width = float(by_type["WINDOW"])
    if not bpy.context.preferences.system.use_region_overlap:
        return 0.0, width
    left, right = by_type.get("TOOLS", 0), width - by_type.get("UI", 0)
    return (float(left), right) if left < right else (0.0, width)


def clear_rows_px(regions: Iterable[bpy.types.Region], letters_px: float) -> tuple[float, float]:
    """Return from where to where, from the view's upper edge, nothing lies over it.

    Parameters
    ----------
    regions : iterable of bpy.types.Region
        Of one 3D view.
    letters_px : float
        How high up letters reach that are written into it.
    """
    heights = [(one.type, float(one.height)) for one in regions]
    height = next(high for kind, high in heights if kind == "WINDOW")
    overlap = bpy.context.preferences.system.use_region_overlap
    heads = sum(high for kind, high in heights if kind in HEADS) if overlap else 0.0
    low, high = heads, height - letters_px
    return (low, high) if low < high else (0.0, height)


def fitting(scale: float, block: tuple[float, float], room: tuple[float, float]) -> float:
    """Return the scale at which a block of letters fits; never a larger one.

    Parameters
    ----------
    scale : float
        What the user set for all of Blender.
    block, room : tuple of float
        Width and height in pixels: of the letters at that scale, and of where they may be.
    """
    shares = [have / need for have, need in zip(room, block, strict=True) if need > 0.0]
    return scale * max(min([1.0, *shares]), 0.0)


def shift_px(clear: tuple[float, float], width: float, needed: float) -> float:
    """Return how far left of a view's middle to put a thing, to see it beside the sidebar.

    The same with rows from the upper edge tells how far up, to see it over letters.

    Parameters
    ----------
    clear : tuple of float
        From where to where the view is clear.
    width : float
        Of the whole view.
    needed : float
        Pixels that the thing needs across; it is put in the middle of the clear ones if it needs
        more than there are.
    """
    low, high = clear
    most = width / 2.0 - (low + high) / 2.0
    return min(max(width / 2.0 + needed / 2.0 - high, 0.0), max(most, 0.0))
