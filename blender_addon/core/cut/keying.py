"""The slit through the rubber: straight at the piece, toothed further out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants import LEAST_TEETH_MM
from ..geometry.mesh import Mesh
from .path import rearmost_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.sections import Sections
    from .settings import CutSettings


@dataclass(frozen=True, eq=False)
class Keying:
    """``ribbon`` runs from the piece to the outside; ``trace_mm`` (n, 3) is its edge out there.

    ``bare_mm`` names the heights from and to which there is no room for teeth, None if there is.
    """

    ribbon: Mesh
    trace_mm: Floats
    bare_mm: tuple[float, float] | None


def keyed_slit(
    path_mm: Floats, sections: Sections, outer_radius_mm: float, settings: CutSettings
) -> Keying:
    """Return the surface that the knife follows.

    Every row of it runs straight back from the piece, slants to one side by the tooth, at 45
    degrees, and goes on straight to the outside. Teeth turn at 45 degrees along the height, too.

    Parameters
    ----------
    path_mm : ndarray, shape (n, 3)
        On the piece, from the board up, at heights of the sections.
    sections : Sections
        Of the piece on its riser, past the end of the path.
    outer_radius_mm : float
        Of the block round x = y = 0.
    settings : CutSettings
        Tooth, straight part, distances to keep.
    """
    reach = settings.tooth_mm / 4.0
    x, y, z = path_mm.T
    straight_to = np.maximum(
        y + settings.straight_mm, _clear_from_mm(path_mm, sections, reach, settings.keep_off_mm)
    )
    widest_x = np.minimum(np.abs(x) + reach, outer_radius_mm)
    teeth_to = _circle_y_mm(outer_radius_mm - settings.keep_off_mm, widest_x)
    wave, room = _teeth(z, teeth_to - straight_to, settings.tooth_mm)
    side = x + wave
    outside = _circle_y_mm(outer_radius_mm, np.minimum(np.abs(side), outer_radius_mm))
    bare = room <= 0.0
    straight_to = np.where(bare, (2.0 * y + outside) / 3.0, straight_to)
    slanted_to = np.where(bare, (y + 2.0 * outside) / 3.0, straight_to + room)
    columns = [(x, y), (x, straight_to), (side, slanted_to), (side, outside)]
    rows = np.stack([np.column_stack([*column, z]) for column in columns], axis=1)
    return Keying(_strip(rows), rows[:, -1], _span(z, bare))


def _clear_from_mm(path: Floats, sections: Sections, reach: float, keep_off: float) -> Floats:
    """Return the y from which a tooth is clear of the piece, at every point of the path.

    Of a point of the piece that is no further back than that less ``keep_off``, or further off in x
    or in z alone, the distance is more than ``keep_off`` too.
    """
    heights = sections.heights_mm
    window = keep_off + float(np.max(np.diff(heights), initial=0.0))
    near: Bools = np.abs(heights[:, None] - path[None, :, 2]) <= window
    low = np.where(near, path[None, :, 0], np.inf).min(axis=1) - reach - keep_off
    high = np.where(near, path[None, :, 0], -np.inf).max(axis=1) + reach + keep_off
    rear = np.full(len(heights), -np.inf)
    for number in np.flatnonzero(near.any(axis=1)).tolist():
        rear[number] = rearmost_mm(sections.at(number), low[number], high[number])
    clear: Floats = np.where(near, rear[:, None], -np.inf).max(axis=0) + keep_off
    return clear


def _teeth(z: Floats, depth: Floats, tooth: float) -> tuple[Floats, Floats]:
    """Return how far each row goes sideways, and the reach of the tooth that it belongs to.

    Teeth start at the lowest row; each reaches as far as the thinnest place along it has room for.
    What is left over at the top, less than a tooth, stays straight.
    """
    number = np.floor((z - z[0]) / (tooth / 2.0) + 1e-9).astype(np.int64)
    room = np.full(number.max() + 1, np.inf)
    np.minimum.at(room, number, depth)
    room = np.where(room < LEAST_TEETH_MM, 0.0, np.minimum(room, tooth / 4.0))
    share = (z - z[0]) / (tooth / 2.0) - number
    rise = 1.0 - np.abs(2.0 * np.clip(share, 0.0, 1.0) - 1.0)
    whole = z[0] + (number + 1) * tooth / 2.0 <= z[-1] + 1e-9
    sign = np.where(number % 2 == 0, 1.0, -1.0)
    return np.where(whole, sign * rise * room[number], 0.0), room[number]


def _circle_y_mm(radius: float, x: Floats) -> Floats:
    y: Floats = np.sqrt(np.maximum(radius**2 - x**2, 0.0))
    return y


def _strip(rows: Floats) -> Mesh:
    """Return the surface over a grid of points (n, k, 3)."""
    count, across = rows.shape[:2]
    number = np.arange(count * across).reshape(count, across)
    a, b = number[:-1, :-1].ravel(), number[:-1, 1:].ravel()
    c, d = number[1:, 1:].ravel(), number[1:, :-1].ravel()
    return Mesh(
        rows.reshape(-1, 3), np.vstack([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    )


def _span(z: Floats, chosen: Bools) -> tuple[float, float] | None:
    return (float(np.min(z[chosen])), float(np.max(z[chosen]))) if chosen.any() else None
