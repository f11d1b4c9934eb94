"""Where things of the layout stand in the scene, and where they are looked at from."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from mathutils import Matrix, Quaternion, Vector

from . import names
from .lengths import mm_per_unit

if TYPE_CHECKING:
    import bpy

    from ..core.desk.laid import Laid
    from ..core.layout import Layout

GAP = 5.0
"""Widths of the case between layout and scan: room for the eye, so that the scan is behind it, even
one that is a thousand times too large."""

MOST_GROWN = 3.0
"""Times that a case may be wider than the one whose place it takes: the scan stays clear of it."""

FARTHEST_STEPS = 64
"""Half gaps to go on by, where other things of the scene stand in the way; then it stands there."""

ACROSS_POCKETS = 4.0
"""Distance of the eye from a pocket in widths of it: some of the surface round it is seen."""

LEAST_ACROSS_MM = 12.0
"""Width taken for a smaller pocket, or one would see nothing but a few triangles."""

SIDE_EYE_HEIGHT = 0.25
"""Of the eye over a place that is looked at from the side, per level distance."""

PLACE_SHARE = 1.2
"""Distance of the eye from such a place, in largest sizes of the master: one sees where it is."""

HIDES_A_SCAN = {"MESH", "CURVE", "SURFACE", "META", "FONT", "VOLUME"}

CLEAR_SHARE = 0.25
"""Room left between a new scan and what stands in the scene, in largest sizes of the scan."""

QUARTER_TURN = np.pi / 2.0


def eye_direction(layout: Layout) -> Vector:
    """Return the level direction, of length 1, that most of the places to brush look to."""
    return Vector((*layout.looks_to, 0.0))


def beside(scene: bpy.types.Scene, scan: bpy.types.Object, layout: Layout, eye: Vector) -> Matrix:
    """Return where the job frame goes: on the scan's floor, with the scan behind the eye.

    Where the last layout of this scan stood, while that is clear: a maker who takes another case
    would look at an empty place otherwise. The scene remembers it.
    """
    stored, box = scene.riseline, boxes_of([scan])[0]
    low, high = box
    away = GAP * 2.0 * layout.case.bore.reach_mm / mm_per_unit(scene)
    axis = int(abs(eye.y) > abs(eye.x))
    sign = -1.0 if eye[axis] > 0.0 else 1.0
    at = (low + high) / 2.0
    at[axis] = low[axis] - away if sign < 0.0 else high[axis] + away
    stood_away = max(stored.stood_away, np.finfo(np.float32).tiny)
    if np.allclose(stored.stood_by, box.ravel()) and away <= MOST_GROWN * stood_away:
        at, away = np.array(stored.stood_at, dtype=np.float64), stood_away
    at = _clear_of_others(scene, scan, at, away, (axis, sign))
    stored.stood_by, stored.stood_at, stored.stood_away = box.ravel(), at, away
    return Matrix.Translation((at[0], at[1], low[2]))


def _clear_of_others(
    scene: bpy.types.Scene,
    scan: bpy.types.Object,
    at: np.ndarray,
    away: float,
    way: tuple[int, float],
) -> np.ndarray:
    """Return the first place from there on, along an axis and its sign, where nothing else is."""
    axis, sign = way
    boxes = boxes_of(others(scene, scan))
    reach = np.full(3, away / 2.0)
    for _ in range(FARTHEST_STEPS):
        seen = np.array([at - reach, at + reach])
        seen[int(sign < 0.0), axis] -= sign * away  # the way from the eye
        clear = (boxes[:, 0] > seen[1]).any(axis=1) | (boxes[:, 1] < seen[0]).any(axis=1)
        if clear.all():
            break
        at[axis] += sign * away / 2.0
    return at


def tipped(scene: bpy.types.Scene, laid: Laid, eye: Vector) -> Matrix:
    """Return where, in the job frame, the master lies on its back with its underside to the eye.

    It hangs at the left of the case, at half its height.
    """
    layout = laid.layout
    low, high = (Vector(corner) for corner in laid.picture.mesh.bounds)
    left = eye.cross(Vector((0.0, 0.0, 1.0)))
    case_mm = layout.case.bore.reach_mm + layout.case.wall_mm
    own_mm = Vector((high.x - low.x, high.y - low.y)).length / 2.0
    at = left * (case_mm + layout.settings.parts.flange_mm + own_mm)
    at.z = layout.case.height_mm / 2.0
    per_mm = 1.0 / mm_per_unit(scene)
    turn = Matrix.Rotation(QUARTER_TURN, 4, left)
    middle = (low + high) / 2.0
    return Matrix.Translation(at * per_mm) @ turn @ Matrix.Translation(middle * -per_mm)


def below_pocket(
    scene: bpy.types.Scene, thing: bpy.types.Object, pocket: bpy.types.PropertyGroup
) -> tuple[Vector, Quaternion, float]:
    """Return what to look at, the turn of the view and its distance, to look up into a pocket.

    Parameters
    ----------
    scene : bpy.types.Scene
        Says how long a unit is.
    thing : bpy.types.Object
        The master or the brush map, wherever it was moved to.
    pocket : bpy.types.PropertyGroup
        A row of the pockets.
    """
    per_mm = 1.0 / mm_per_unit(scene)
    at = thing.matrix_world @ (Vector(pocket.at_mm) * per_mm)
    eye = thing.matrix_world.to_3x3() @ Vector((0.0, 0.0, -1.0))
    across_mm = max(2.0 * np.sqrt(pocket.area_cm2 * 100.0 / np.pi), LEAST_ACROSS_MM)
    return at, eye.to_track_quat("Z", "Y"), ACROSS_POCKETS * across_mm * per_mm


def outside_of(
    scene: bpy.types.Scene, master: bpy.types.Object, at_mm: tuple[float, ...]
) -> tuple[Vector, Quaternion, float]:
    """Return what to look at, the turn of the view and its distance, to see a place from outside.

    Parameters
    ----------
    scene : bpy.types.Scene
        Says how long a unit is.
    master : bpy.types.Object
        As it stands in the case, wherever that was moved to.
    at_mm : tuple of float
        x, y, z in the job's frame.
    """
    at = master.matrix_world @ (Vector(at_mm) / mm_per_unit(scene))
    outward = Vector((at_mm[0], at_mm[1], 0.0))
    outward = outward.normalized() if outward.length > 1.0 else Vector((0.0, -1.0, 0.0))
    outward.z = SIDE_EYE_HEIGHT
    eye = master.matrix_world.to_3x3() @ outward
    return at, eye.to_track_quat("Z", "Y"), PLACE_SHARE * max(master.dimensions)


def others(scene: bpy.types.Scene, scan: bpy.types.Object) -> list[bpy.types.Object]:
    """Return what could hide something in a scene, beside a scan and our own layouts."""
    solid = (one for one in scene.objects if one.type in HIDES_A_SCAN and not one.hide_viewport)
    return [one for one in solid if one != scan and names.OWN not in one]


def boxes_of(things: list[bpy.types.Object]) -> np.ndarray:
    """Return the lowest and highest corner in the scene of each object, (k, 2, 3)."""
    boxes = np.zeros((len(things), 2, 3))
    for number, thing in enumerate(things):
        corners = np.array([thing.matrix_world @ Vector(corner) for corner in thing.bound_box])
        boxes[number] = corners.min(axis=0), corners.max(axis=0)
    return boxes


def clear_shift(box: np.ndarray, boxes: np.ndarray) -> float:
    """Return how far to move a box (2, 3) along +x so that it touches none of some boxes."""
    gap = CLEAR_SHARE * float((box[1] - box[0]).max())
    moved = box.copy()
    for low, high in sorted(boxes.tolist(), key=lambda one: one[1][0]):
        if (moved[0] <= np.array(high) + gap).all() and (moved[1] >= np.array(low) - gap).all():
            moved[:, 0] += high[0] + gap - moved[0, 0]
    return float(moved[0, 0] - box[0, 0])


def bounds(things: list[bpy.types.Object]) -> tuple[Vector, float]:
    """Return the middle of some objects and the diagonal of the box round them, in the scene."""
    corners = np.array(
        [thing.matrix_world @ Vector(corner) for thing in things for corner in thing.bound_box]
    )
    low, high = corners.min(axis=0), corners.max(axis=0)
    return Vector((low + high) / 2.0), float(np.linalg.norm(high - low))
