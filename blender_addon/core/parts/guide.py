"""A knife guide: a plate round part of the block whose edge is the knife's line on the outside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..case.girth import places_mm
from ..constants.parts import (
    GUIDE_BEVEL_SHARE,
    GUIDE_FOOT_MM,
    GUIDE_PLATE_MM,
    GUIDE_ROW_MM,
    GUIDE_STEP_MM,
    GUIDE_STRAP_DEEP_MM,
    GUIDE_STRAP_MM,
)
from ..geometry.mesh import Mesh

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..case.bore import Bore

THICKEST_MM = GUIDE_PLATE_MM + GUIDE_FOOT_MM


@dataclass(frozen=True, eq=False)
class Plate:
    """A guide on the unrolled outside: ``line`` (n, 2) is how far round and how high, ascending.

    ``far_mm`` is how far round its straight edge stands, on either side of the line.
    """

    line: Floats
    far_mm: float

    def between(self, low_mm: float, high_mm: float) -> Plate:
        """Return the part of it between two heights."""
        z = self.line[:, 1]
        inner = z[(z > low_mm + GUIDE_ROW_MM) & (z < high_mm - GUIDE_ROW_MM)]
        heights = np.concatenate([[low_mm], inner, [high_mm]])
        return Plate(
            np.column_stack([np.interp(heights, z, self.line[:, 0]), heights]), self.far_mm
        )


def guide_mesh(bore: Bore, plate: Plate, gap_mm: float) -> Mesh:
    """Return a guide as a closed surface in the job frame.

    Its inside follows the block with a gap all over. The edge along the line is bevelled down to
    nothing at the inside; a foot and the grooves for two straps run along the outside.

    Parameters
    ----------
    bore : Bore
        Outside of the block, without sides that have no length.
    plate : Plate
    gap_mm : float
        Between guide and block.
    """
    z = _rows(plate.line[:, 1])
    edge = np.interp(z, plate.line[:, 1], plate.line[:, 0])
    sign = 1.0 if plate.far_mm > edge.max() else -1.0
    thick = thickness_mm(z)
    begin = edge + sign * GUIDE_BEVEL_SHARE * THICKEST_MM
    count = max(int(np.ceil(np.abs(plate.far_mm - begin).max() / GUIDE_STEP_MM)), 1)
    share = np.arange(count + 1) / count
    columns = begin[:, None] + share * (plate.far_mm - begin)[:, None]
    extra = int(np.ceil(GUIDE_BEVEL_SHARE * THICKEST_MM / GUIDE_STEP_MM))
    under = edge[:, None] + np.arange(extra) / extra * (begin - edge)[:, None]
    inside = np.column_stack([under, columns])
    layers = [(inside, np.full(inside.shape, gap_mm)),
              (columns, np.broadcast_to(gap_mm + thick[:, None], columns.shape))]  # fmt: skip
    points = [
        np.column_stack([
            places_mm(bore, around.ravel(), np.array(out).ravel()), np.repeat(z, around.shape[1])
        ])
        for around, out in layers
    ]  # fmt: skip
    faces = _faces(len(z), count + 1, extra)
    return Mesh(np.vstack(points), faces if sign > 0.0 else faces[:, ::-1])


def thickness_mm(z: Floats) -> Floats:
    """Return how thick a guide is at heights (n,), ascending: a foot, two grooves for straps.

    The foot narrows at 45 degrees, the grooves by half of that: they meet a bevel that leans, too.
    """
    low, high = float(z[0]), float(z[-1])
    foot = np.clip(GUIDE_FOOT_MM - np.clip(z - low - GUIDE_FOOT_MM, 0.0, None), 0.0, None)
    groove = np.zeros(len(z))
    if high - low > 4.0 * GUIDE_STRAP_MM:
        for middle in _straps(low, high):
            inside = GUIDE_STRAP_MM / 2.0 - np.abs(z - middle)
            groove = np.maximum(groove, np.clip(inside / 2.0, 0.0, GUIDE_STRAP_DEEP_MM))
    thick: Floats = GUIDE_PLATE_MM + foot - groove
    return thick


def _straps(low_mm: float, high_mm: float) -> tuple[float, float]:
    """Return the heights of the straps' middles."""
    return low_mm + 0.3 * (high_mm - low_mm), low_mm + 0.8 * (high_mm - low_mm)


def _rows(z: Floats) -> Floats:
    """Return the heights of the rows: the line's own, between them where the thickness bends."""
    low, high = float(z[0]), float(z[-1])
    bends = [low + GUIDE_FOOT_MM, low + 2.0 * GUIDE_FOOT_MM]
    half = GUIDE_STRAP_MM / 2.0
    for middle in _straps(low, high):
        reach = (half, half - 2.0 * GUIDE_STRAP_DEEP_MM)
        bends += [middle + side * one for side in (-1.0, 1.0) for one in reach]
    kept = [0]
    for number in range(1, len(z)):
        if z[number] - z[kept[-1]] >= GUIDE_ROW_MM:
            kept.append(number)
    kept[-1] = len(z) - 1 if len(kept) > 1 else 0
    own = z[np.array(kept if len(kept) > 1 else [0, len(z) - 1])]
    clear = [b for b in bends if low < b < high and np.abs(own - b).min() >= GUIDE_ROW_MM]
    return np.unique(np.concatenate([own, clear]))


def _faces(rows: int, columns: int, extra: int) -> Ints:
    """Return the triangles; the inside has some columns more than the outside, under the bevel."""
    inner = np.arange(rows * (columns + extra)).reshape(rows, columns + extra)
    outer = inner.size + np.arange(rows * columns).reshape(rows, columns)
    bevel = np.column_stack([inner[:, 0], outer[:, 0]])
    far = np.column_stack([outer[:, -1], inner[:, -1]])
    sheets = [_quads(inner[:, ::-1]), _quads(bevel), _quads(outer), _quads(far)]
    for row, turned in ((0, False), (-1, True)):
        cap = [[inner[row, one], inner[row, one + 1], outer[row, 0]] for one in range(extra)]
        for one in range(columns - 1):
            a, b = inner[row, one + extra], inner[row, one + extra + 1]
            c, d = outer[row, one + 1], outer[row, one]
            cap += [[a, b, c], [a, c, d]]
        ends = np.array(cap)
        sheets.append(ends[:, ::-1] if turned else ends)
    return np.vstack(sheets)


def _quads(grid: Ints) -> Ints:
    """Return the triangles over a grid of points, seen from where its columns run to the right."""
    a, b = grid[:-1, :-1].ravel(), grid[:-1, 1:].ravel()
    c, d = grid[1:, 1:].ravel(), grid[1:, :-1].ravel()
    return np.vstack([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
