"""From where most of the places to brush are seen: from below, unless the piece itself hides them.

A narrow place over the widest part of the piece is not seen from below at all.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
from mathutils import Vector

from . import attributes, names

if TYPE_CHECKING:
    import bpy

BELOW = Vector((0.0, 0.0, -1.0))

SLOPES_DEG = (-45.0, -15.0, 20.0)
"""Of the other eyes over the level: half from below first, for most places look down. Ours."""

HOURS = 12

MOST_FACES = 150
"""Looked at of the places to brush, spread over all of them: 37 eyes then take some ms. Ours."""

ENOUGH_SHARE = 0.5
"""From below one sees what air stays under: another eye must see twice as much of it. Ours."""

LEAST_SLANT = 0.2
"""A face that is seen more aslant than this is seen as a line. Ours."""

OFF_SHARE = 1e-4
"""How far off its face a look begins, in sizes of the piece, or it would meet the face itself."""


def brush_eye(thing: bpy.types.Object) -> Vector:
    """Return the direction, of length 1 and in its own frame, from a map to the best eye.

    Parameters
    ----------
    thing : bpy.types.Object
        The brush map or the master, shown, with the scene up to date.
    """
    faces = np.flatnonzero(attributes.read(thing.data, names.PREBRUSH))
    if not len(faces):
        return BELOW
    spread = np.linspace(0, len(faces) - 1, min(MOST_FACES, len(faces))).astype(int)
    looked_at = [thing.data.polygons[k] for k in faces[spread].tolist()]
    best, most = BELOW, _seen(thing, looked_at, BELOW) / ENOUGH_SHARE
    for eye in _other_eyes():
        seen = _seen(thing, looked_at, eye)
        if seen > most:
            best, most = eye, seen
    return best


def _other_eyes() -> list[Vector]:
    """Return the eyes that are tried, the back last: there is the channel's wall."""
    hours = sorted(range(HOURS), key=lambda hour: min(hour, HOURS - hour))
    eyes = []
    for slope_deg, hour in itertools.product(SLOPES_DEG, hours):
        slope, turn = math.radians(slope_deg), math.tau * hour / HOURS - math.pi / 2.0
        level = math.cos(slope)
        eyes.append(Vector((level * math.cos(turn), level * math.sin(turn), math.sin(slope))))
    return eyes


def _seen(thing: bpy.types.Object, looked_at: list[bpy.types.MeshPolygon], eye: Vector) -> float:
    """Return how much of some faces an eye sees, as large as it looks from there."""
    off = OFF_SHARE * max(thing.dimensions)
    seen = 0.0
    for face in looked_at:
        slant = face.normal.dot(eye)
        if slant > LEAST_SLANT and not thing.ray_cast(face.center + face.normal * off, eye)[0]:
            seen += face.area * slant
    return seen
