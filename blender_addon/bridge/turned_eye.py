"""An eye that goes round with what it is to see: brush map and cut lie where the piece asks for."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from mathutils import Matrix, Vector

from . import names
from .place import bounds

if TYPE_CHECKING:
    from collections.abc import Sequence

    import bpy
    import numpy as np

LEAST_ASIDE = 0.05
"""Of the master's diagonal: what is no farther from its middle lies all round it. Ours."""


UPRIGHT = 0.999
"""Cosine of how far up may lie from up, for one turn about it to tell all. Ours."""


def turn_between(before: np.ndarray, after: np.ndarray) -> float:
    """Return by what angle about the upright a piece was turned, in radians.

    Parameters
    ----------
    before, after : ndarray, shape (4, 4)
        Placements of the piece in two layouts; of one that stands on another side it is 0.

    Examples
    --------
    >>> import numpy as np
    >>> quarter = np.array([[0, -1, 0, 5], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])
    >>> round(math.degrees(turn_between(np.eye(4), quarter)))
    90
    """
    turn = after[:3, :3] @ before[:3, :3].T
    return math.atan2(turn[1, 0], turn[0, 0]) if turn[2, 2] > UPRIGHT else 0.0


def turned_eye(
    things: Sequence[bpy.types.Object],
    role: str,
    way: tuple[float, float],
    eye: tuple[float, float, float],
) -> Vector:
    """Return an eye's direction, turned about the upright as far as a thing is.

    Parameters
    ----------
    things : sequence of bpy.types.Object
        Of the layout.
    role : str
        Of the thing to go round with; without it, or where it lies all round the master, the eye
        stays.
    way : tuple of float
        Where that thing lies from the master, level, when the eye is the one given.
    eye : tuple of float
        From what is looked at.
    """
    found = {one[names.OWN]: one for one in things}
    if role not in found or names.MASTER_ROLE not in found:
        return Vector(eye)
    middle, diagonal = bounds([found[names.MASTER_ROLE]])
    aside = (bounds([found[role]])[0] - middle).to_2d()
    if aside.length < LEAST_ASIDE * diagonal:
        return Vector(eye)
    turn = -Vector(way).angle_signed(aside)  # Blender counts it clockwise
    return Matrix.Rotation(turn, 3, "Z") @ Vector(eye)
