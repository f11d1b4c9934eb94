"""The slit through the rubber: straight at the piece, toothed further out, long waves along it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    BESIDE_MM,
    BLADE_INTO_MM,
    LEAST_TEETH_MM,
    LONG_WAVE_MM,
    LONG_WAVE_SHARE,
    TEETH_PITCH_MM,
)
from ..geometry.mesh import Mesh
from .path import rearmost_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..case.bore import Bore
    from ..geometry.sections import Sections
    from .settings import CutSettings


@dataclass(frozen=True, eq=False)
class Blade:
    """Where the knife meets the piece, (n, 3), ascending, and its level way out, unit (n, 2)."""

    points_mm: Floats
    ways: Floats

    def frame(self, points: Floats, row: int) -> Floats:
        """Return points (..., 2) of a plan as distance along the way and to its left."""
        x, y = self.ways[row]
        off = (points - self.points_mm[row, :2]).reshape(-1, 2)  # one product is quicker than many
        turned: Floats = (off @ np.array([[x, -y], [y, x]])).reshape(points.shape)
        return turned


@dataclass(frozen=True, eq=False)
class Keying:
    """``rows`` (n, 4, 3) run from the piece over the straight part and the tooth to the outside.

    ``bare_mm`` names the heights from and to which there is no room for teeth, None if there is.
    ``tooth_mm`` is the pitch along the height, ``wave_mm`` how far the long waves go to each side.
    """

    rows: Floats
    bare_mm: tuple[float, float] | None
    tooth_mm: float
    wave_mm: float

    @property
    def into_mm(self) -> Floats:
        """How far (n,) a blade goes into the piece so that no ledge between two rows is left."""
        starts = self.rows[:, 0, :2]
        first = self.rows[:, 1, :2] - starts
        ways = first / np.maximum(np.linalg.norm(first, axis=1), np.finfo(float).tiny)[:, None]
        into = np.zeros(len(starts))
        into[1:] = np.einsum("ij,ij->i", starts[1:] - starts[:-1], ways[1:])
        ahead = np.einsum("ij,ij->i", starts[:-1] - starts[1:], ways[:-1])
        into[:-1] = np.maximum(into[:-1], ahead)
        return np.maximum(into, 0.0) + BLADE_INTO_MM

    @property
    def ribbon(self) -> Mesh:
        """The surface that the knife follows."""
        return _strip(self.rows)


def keyed_slit(blade: Blade, sections: Sections, bore: Bore, settings: CutSettings) -> Keying:
    """Return the surface that the knife follows.

    Every row of it runs straight out from the piece, slants to one side by the tooth and the long
    wave, at 45 degrees at the most, and goes on straight to the outside. Teeth turn at 45 degrees
    along the height, too; the long waves let the lips not slide along each other.

    Parameters
    ----------
    blade : Blade
        From the board up, at heights of the sections.
    sections : Sections
        Of the piece on its riser, past the end of the blade.
    bore : Bore
        Outside of the block.
    settings : CutSettings
        Tooth, straight part, distances to keep.
    """
    z = blade.points_mm[:, 2]
    most = (settings.tooth_mm or TEETH_PITCH_MM[1]) / 4.0 + LONG_WAVE_MM
    clear = _clear_from_mm(blade, sections, most, settings.keep_off_mm)
    straight_to = np.maximum(settings.straight_mm, clear)
    walls = [_wall_mm(blade, bore, side) for side in (-most, 0.0, most)]
    room = np.minimum.reduce(walls) - settings.keep_off_mm - straight_to
    pitch = settings.tooth_mm or _pitch_mm(room)
    tooth, reach = _teeth(z, room, pitch)
    long_mm = _long_wave_mm(room, reach)
    side = tooth + _long_waves(z, np.where(reach > 0.0, long_mm, 0.0))
    bare = reach <= 0.0
    outside = _wall_mm(blade, bore, side)
    straight_to = np.where(bare, outside / 3.0, straight_to)
    slanted_to = np.where(bare, outside / 1.5, straight_to + reach + long_mm)
    none = np.zeros(len(z))
    columns = [(none, none), (straight_to, none), (slanted_to, side), (outside, side)]
    rows = np.stack([_placed(blade, *column) for column in columns], axis=1)
    return Keying(rows, _span(z, bare), pitch, long_mm)


def _placed(blade: Blade, along: Floats, side: Floats) -> Floats:
    left = np.column_stack([-blade.ways[:, 1], blade.ways[:, 0]])
    plan = blade.points_mm[:, :2] + along[:, None] * blade.ways + side[:, None] * left
    return np.column_stack([plan, blade.points_mm[:, 2]])


def _wall_mm(blade: Blade, bore: Bore, side: float | Floats) -> Floats:
    """Return how far it is to the wall along each way, so far to its left."""
    left = np.column_stack([-blade.ways[:, 1], blade.ways[:, 0]])
    starts = blade.points_mm[:, :2] + np.reshape(side, (-1, 1)) * left
    return bore.reaches_mm(starts, blade.ways)


def _clear_from_mm(blade: Blade, sections: Sections, reach: float, keep_off: float) -> Floats:
    """Return how far out a tooth is clear of the piece, at every row.

    Of a point of the piece that is no further out than that less ``keep_off``, or further off to
    the side or in z alone, the distance is more than ``keep_off`` too.
    """
    levels = _thinned(sections.heights_mm)
    heights = sections.heights_mm[levels]
    window = keep_off + float(np.max(np.diff(heights), initial=0.0))
    segments = sections.segments[np.isin(sections.level, levels)]
    counts = np.bincount(sections.level, minlength=len(sections.heights_mm))[levels]
    first = np.append(0, np.cumsum(counts))
    plan = np.ascontiguousarray(segments.transpose(2, 1, 0))
    half = reach + keep_off
    clear = np.zeros(len(blade.points_mm))
    for row, (x, y, z) in enumerate(blade.points_mm.tolist()):
        near = np.flatnonzero(np.abs(heights - z) <= window)
        if not len(near):
            continue
        own = slice(first[near[0]], first[near[-1] + 1])
        way_x, way_y = blade.ways[row]
        left = way_x * (plan[1, :, own] - y) - way_y * (plan[0, :, own] - x)
        met = np.abs(left.sum(axis=0) / 2.0) <= half + np.abs(left[1] - left[0]) / 2.0 + BESIDE_MM
        across = blade.frame(segments[own][met], row)[..., ::-1]
        clear[row] = rearmost_mm(across, -half, half) + keep_off
    return clear


def _thinned(heights: Floats) -> Ints:
    """Return numbers of heights a millimetre or so apart, and of the last."""
    kept = np.flatnonzero(np.diff(np.floor(heights), prepend=-1.0) > 0)
    return np.unique(np.append(kept, len(heights) - 1))


def _pitch_mm(room: Floats) -> float:
    """Return the pitch whose teeth fill half of the room that there is along most of the slit."""
    low, high = TEETH_PITCH_MM
    return float(np.clip(2.0 * np.quantile(room, 0.25), low, high))


def _teeth(z: Floats, room: Floats, pitch: float) -> tuple[Floats, Floats]:
    """Return how far each row goes sideways, and the reach of the tooth that it belongs to.

    Teeth start at the lowest row; each reaches as far as the thinnest place along it has room for.
    What is left over at the top, less than a tooth, stays straight.
    """
    number = np.floor((z - z[0]) / (pitch / 2.0) + 1e-9).astype(np.int64)
    least = np.full(number.max() + 1, np.inf)
    np.minimum.at(least, number, room)
    least = np.where(least < LEAST_TEETH_MM, 0.0, np.minimum(least, pitch / 4.0))
    share = (z - z[0]) / (pitch / 2.0) - number
    rise = 1.0 - np.abs(2.0 * np.clip(share, 0.0, 1.0) - 1.0)
    whole = z[0] + (number + 1) * pitch / 2.0 <= z[-1] + 1e-9
    sign = np.where(number % 2 == 0, 1.0, -1.0)
    return np.where(whole, sign * rise * least[number], 0.0), least[number]


def _long_wave_mm(room: Floats, reach: Floats) -> float:
    """Return how far the long waves may go: what teeth leave of the room, where there are any."""
    toothed = reach > 0.0
    if not toothed.any():
        return 0.0
    return float(np.clip(np.min((room - reach)[toothed]), 0.0, LONG_WAVE_MM))


def _long_waves(z: Floats, wave_mm: Floats) -> Floats:
    """Return the long waves along the height: a few of them, none at either end."""
    span = max(float(z[-1] - z[0]), np.finfo(float).tiny)
    count = max(round(span * LONG_WAVE_SHARE), 1)
    waves: Floats = wave_mm * np.sin(2.0 * np.pi * count * (z - z[0]) / span)
    return waves


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
