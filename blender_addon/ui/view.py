"""What the 3D views on the screen do for us."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import bpy
from mathutils import Matrix, Vector

from ..bridge import names
from ..bridge.brush_eye import BELOW, brush_eye
from ..bridge.kept import kept
from ..bridge.place import below_pocket, bounds, eye_direction, outside_of
from ..bridge.show import own_objects
from . import ids
from .overlay import letters_in
from .room import clear_px, clear_rows_px, shift_px

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from ..core.layout import Layout

AROUND = 1.35
"""Distance of the eye in diagonals of what is looked at: it fills most of the view."""

HIGH_SHARE = 0.75
"""Of the diagonal of what is looked at that it is high in most looks: the eye goes so far away that
this finds room over the letters. Ours."""

SIGHT = 3.0
"""How far each view must see at least, in diagonals of what is looked at: behind it too."""

SENSOR_MM = 72.0
"""Twice the width of a sensor of 35 mm film: what Blender's views take a lens's angle from."""

SECONDS_BETWEEN_TRIES, MOST_TRIES = 0.05, 40
"""For a sidebar to be drawn for the first time."""

EYE_HEIGHT = 0.3
"""Of the eye over its level distance: one looks into the case, but still under the rims."""


def _areas(context: bpy.types.Context) -> Iterator[bpy.types.Area]:
    for window in context.window_manager.windows:
        yield from (area for area in window.screen.areas if area.type == "VIEW_3D")


def redraw(context: bpy.types.Context) -> None:
    """Have the sidebars drawn again; not the views, which takes long and slows the work down."""
    for area in _areas(context):
        for region in area.regions:
            if region.type == "UI":
                region.tag_redraw()


def frame(context: bpy.types.Context, things: list[bpy.types.Object]) -> None:
    """Bring objects into each view, seen from where one looked before."""
    middle, diagonal = bounds(things)
    for area in _areas(context):
        letters = letters_in(context, area)
        _aim(area, middle, diagonal, letters.top if letters else 0.0)


def _aim(area: bpy.types.Area, middle: Vector, diagonal: float, letters_px: float) -> None:
    """Bring something into a view, where neither sidebar nor letters lie over it."""
    space = area.spaces.active
    view, window = space.region_3d, next(one for one in area.regions if one.type == "WINDOW")
    low, high = rows = clear_rows_px(area.regions, letters_px)
    away = AROUND * diagonal
    per_px = away * SENSOR_MM / space.lens / max(window.width, window.height, 1)
    farther = max(HIGH_SHARE * diagonal / per_px / max(high - low, 1.0), 1.0)
    view.view_distance, per_px = away * farther, per_px * farther
    needed = diagonal / per_px
    aside = shift_px(clear_px(area.regions), window.width, needed)
    up = shift_px(rows, window.height, needed)
    view.view_location = middle + view.view_rotation @ Vector((aside, -up, 0.0)) * per_px
    # or a scan in millimeters, taken for meters, is cut off where sight ends: nothing is seen
    space.clip_end = max(space.clip_end, SIGHT * diagonal)
    _look_with_an_eye(view)


def _look_with_an_eye(view: bpy.types.RegionView3D) -> None:
    """Leave orthographic and camera view.

    Orthographic sight begins endlessly far away: a scan in millimeters that was taken for meters
    stands in front of the layout then, whichever way one looks.
    """
    view.view_perspective = "PERSP"


def look_from(context: bpy.types.Context, eye: Sequence[float]) -> None:
    """Turn each view so that the eye is that way from what is looked at; to be framed after it."""
    for area in _areas(context):
        area.spaces.active.region_3d.view_rotation = Vector(eye).to_track_quat("Z", "Y")


def turn_with(context: bpy.types.Context, things: list[bpy.types.Object], angle: float) -> None:
    """Go round some things in each view, as far as they were turned about the upright.

    So a piece is seen from the same side after another case was taken, though the channel, which
    is always at the back, goes down another side of it.
    """
    turn = Matrix.Rotation(angle, 3, "Z")
    middle, _ = bounds(things)
    for area in _areas(context):
        view = area.spaces.active.region_3d
        view.view_rotation = turn.to_quaternion() @ view.view_rotation
        view.view_location = middle + turn @ (view.view_location - middle)


def look_up_at_map(context: bpy.types.Context) -> None:
    """Look at the underside of the piece: of the brush map, or of the master where that is off."""
    _look_at_map(context, lambda _shown: BELOW)


def look_at_map(context: bpy.types.Context) -> None:
    """Look at the places to brush: from below, or from where more of them are seen."""
    context.view_layer.update()
    _look_at_map(context, brush_eye)


def _look_at_map(context: bpy.types.Context, eye_of: Callable[[bpy.types.Object], Vector]) -> None:
    things = [one for one in own_objects(context.scene) if not one.hide_viewport]
    for role in names.MAPS:
        shown = next((one for one in things if one[names.OWN] == role), None)
        if shown is not None:
            look_from(context, shown.matrix_world.to_3x3() @ eye_of(shown))
            frame(context, [shown])
            return


def open_tab(context: bpy.types.Context) -> None:
    """Bring our tab to the front in each 3D view: the next step is there.

    A sidebar that was never open has no tabs yet: it gets them when Blender draws it.
    """
    for area in _areas(context):
        area.spaces.active.show_region_ui = True
    if not _bring_tab_forward(context) and not bpy.app.background:
        tries = iter(range(MOST_TRIES))

        def again() -> float | None:
            done = _bring_tab_forward(bpy.context) or next(tries, None) is None
            return None if done else SECONDS_BETWEEN_TRIES

        bpy.app.timers.register(again, first_interval=SECONDS_BETWEEN_TRIES)


def _bring_tab_forward(context: bpy.types.Context) -> bool:
    """Tell whether our tab is in front in all sidebars."""
    sidebars = [
        region for area in _areas(context) for region in area.regions if region.type == "UI"
    ]
    for region in sidebars:
        with suppress(AttributeError):  # read-only until Blender has drawn the tabs once
            region.active_panel_category = ids.TAB
    return all(region.active_panel_category == ids.TAB for region in sidebars)


def frame_layout(context: bpy.types.Context, scene: bpy.types.Scene, layout: Layout) -> None:
    """Bring the layout into each view, from where the places to brush are seen.

    Selection and cameras stay as they are.
    """
    things = own_objects(scene)
    if not things:
        return
    eye = eye_direction(layout)
    eye.z = EYE_HEIGHT
    look_from(context, eye)
    frame(context, things)


def frame_parts(context: bpy.types.Context) -> None:
    """Bring the print beds into each view while parts lie on them, else the whole layout."""
    things = own_objects(context.scene)
    beds = [one for one in things if one[names.OWN] == names.BED_ROLE]
    lying = beds + [one for one in things if beds and names.PART in one]
    if lying or things:
        frame(context, lying or things)


def frame_pocket(context: bpy.types.Context) -> None:
    """Look up into the chosen pocket of the brush map, in the 3D view where it was chosen."""
    space, found = context.space_data, context.scene.riseline.results
    things = own_objects(context.scene)
    shown = next((one for one in things if one[names.OWN] == names.MAP_ROLE), None)
    chosen = 0 <= found.pocket_row < len(found.pockets)
    if shown is None or not chosen or space is None or space.type != "VIEW_3D":
        return
    view = space.region_3d
    at, turn, distance = below_pocket(context.scene, shown, found.pockets[found.pocket_row])
    view.view_location, view.view_rotation, view.view_distance = at, turn, distance
    _look_with_an_eye(view)


def frame_place(context: bpy.types.Context, at_mm: tuple[float, ...]) -> bool:
    """Look at a place of the job's frame from outside, and mark it; tell whether that was possible.

    Parameters
    ----------
    context : bpy.types.Context
    at_mm : tuple of float
        x, y, z.
    """
    things = own_objects(context.scene)
    master = next((one for one in things if one[names.OWN] == names.MASTER_ROLE), None)
    if master is None:
        return False
    at, turn, distance = outside_of(context.scene, master, at_mm)
    for area in _areas(context):
        view = area.spaces.active.region_3d
        view.view_location, view.view_rotation, view.view_distance = at, turn, distance
        _look_with_an_eye(view)
        area.tag_redraw()
    kept.mark = (context.scene.riseline.results.token, at)
    return True
