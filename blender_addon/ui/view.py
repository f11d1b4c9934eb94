"""What the 3D views on the screen do for us."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..bridge.place import bounds
from ..bridge.show import own_objects

if TYPE_CHECKING:
    from collections.abc import Iterator

    import bpy

AROUND = 1.5
"""Distance of the eye in diagonals of what is looked at: it fills most of the view."""


def _areas(context: bpy.types.Context) -> Iterator[bpy.types.Area]:
    for window in context.window_manager.windows:
        yield from (area for area in window.screen.areas if area.type == "VIEW_3D")


def redraw(context: bpy.types.Context) -> None:
    """Have every 3D view drawn again, the sidebar with it."""
    for area in _areas(context):
        for region in area.regions:
            region.tag_redraw()


def frame_layout(context: bpy.types.Context, scene: bpy.types.Scene) -> None:
    """Turn no view, but bring the layout into the middle of each; selection stays as it is."""
    things = own_objects(scene)
    if not things:
        return
    middle, diagonal = bounds(things)
    for area in _areas(context):
        view = area.spaces.active.region_3d
        view.view_location = middle
        view.view_distance = AROUND * diagonal
        if view.view_perspective == "CAMERA":
            view.view_perspective = "PERSP"
