"""What the surface does between the middles of two neighbouring columns, exactly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..geometry.ranges import spread

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.rows import Cuts, Grid


@dataclass(frozen=True, eq=False)
class Gaps:
    """The surface by gap, both lists sorted by gap; gap i * ny + j lies between cells i and i + 1.

    ``low_mm``/``high_mm`` are the height range of each line within its gap; ``lip_*`` are the
    lowest points of edges that hang down into the air.
    """

    gap: Ints
    low_mm: Floats
    high_mm: Floats
    lip_gap: Ints
    lip_mm: Floats
    lip_x_mm: Floats


def gaps_of(cuts: Cuts, grid: Grid, wanted: Bools) -> Gaps:
    """Return the surface in the gaps along the rows that are wanted (nx * ny,)."""
    gap, low_mm, high_mm = _lines(cuts, grid, wanted)
    lip_gap, lip_x_mm, lip_mm = _lips(cuts, grid, wanted)
    order, lips = np.argsort(gap, kind="stable"), np.argsort(lip_gap, kind="stable")
    return Gaps(
        gap[order], low_mm[order], high_mm[order], lip_gap[lips], lip_mm[lips], lip_x_mm[lips]
    )


def _lines(cuts: Cuts, grid: Grid, wanted: Bools) -> tuple[Ints, Floats, Floats]:
    first = np.minimum(cuts.at[:, 0], cuts.at[:, 1]) - 1
    cut, rank = spread(np.maximum(cuts.at[:, 0], cuts.at[:, 1]) - first)
    i = first[cut] + rank
    gap = i * grid.ny + cuts.row[cut]
    keep = wanted[gap]
    cut, i, gap = cut[keep], i[keep], gap[keep]
    start, end = cuts.xz[cut, 0], cuts.xz[cut, 1]
    run, rise = end[:, 0] - start[:, 0], end[:, 1] - start[:, 1]
    left = grid.x_mm + i * grid.pitch_mm
    flat = np.abs(run) < GROUND_MM
    safe = np.where(flat, 1.0, run)
    ends = [
        np.where(flat, float(k), np.clip((left + k * grid.pitch_mm - start[:, 0]) / safe, 0.0, 1.0))
        for k in (0, 1)
    ]
    heights = [start[:, 1] + share * rise for share in ends]
    return gap, np.minimum(*heights), np.maximum(*heights)


def _lips(cuts: Cuts, grid: Grid, wanted: Bools) -> tuple[Ints, Floats, Floats]:
    """Find the points where the line comes down, turns round solid, and goes up again."""
    step = cuts.xz[:, 1] - cuts.xz[:, 0]
    gap = (cuts.at[:, 1] - 1) * grid.ny + cuts.row
    down = np.flatnonzero((step[:, 1] <= 0.0) & wanted[np.maximum(gap, 0)])
    up = np.flatnonzero(step[:, 1] >= 0.0)
    up = up[np.argsort(cuts.ends[up, 0])]
    if not len(up) or not len(down):
        return np.zeros(0, np.int64), np.zeros(0), np.zeros(0)
    keys = cuts.ends[up, 0]
    found = np.minimum(np.searchsorted(keys, cuts.ends[down, 1]), len(keys) - 1)
    joined = keys[found] == cuts.ends[down, 1]
    down, up = down[joined], up[found[joined]]
    turn = step[down, 0] * step[up, 1] - step[down, 1] * step[up, 0]
    down = down[turn < 0.0]
    return gap[down], cuts.xz[down, 1, 0], cuts.xz[down, 1, 1]


def passable_mm(
    gaps: Gaps, gap: Ints, floor_mm: Floats, ceiling_mm: Floats
) -> tuple[Floats, Floats]:
    """Return how high air can keep on its way through a gap, and where the worst of it is.

    Air under a ceiling passes a gap at the ceiling's height unless the surface hangs down in
    between: then it must dive under the lowest lip. Where the surface crosses and no lip hangs,
    there is a wall.

    Parameters
    ----------
    gaps : Gaps
    gap : ndarray, shape (k,)
        The gap of each passage.
    floor_mm, ceiling_mm : ndarray, shape (k,)
        The lower floor of its two ends, and the lower ceiling.

    Returns
    -------
    level_mm : ndarray, shape (k,)
        -inf where there is a wall.
    x_mm : ndarray, shape (k,)
        NaN where no lip is in the way.
    """
    passage, line = _pairs(gaps.gap, gap)
    over = ceiling_mm[passage] - GROUND_MM
    crossed = np.zeros(len(gap), dtype=bool)
    crossed[passage[(gaps.low_mm[line] < over) & (gaps.high_mm[line] >= over)]] = True
    level_mm = np.where(crossed, -np.inf, ceiling_mm)
    x_mm = np.full(len(gap), np.nan)
    passage, lip = _pairs(gaps.lip_gap, gap)
    height = gaps.lip_mm[lip]
    hangs = crossed[passage] & (height > floor_mm[passage]) & (height < ceiling_mm[passage])
    passage, lip = passage[hangs], lip[hangs]
    order = np.argsort(-gaps.lip_mm[lip], kind="stable")  # the lowest lip is written last
    level_mm[passage[order]] = gaps.lip_mm[lip[order]]
    x_mm[passage[order]] = gaps.lip_x_mm[lip[order]]
    return level_mm, x_mm


def _pairs(sorted_gaps: Ints, gap: Ints) -> tuple[Ints, Ints]:
    first = np.searchsorted(sorted_gaps, gap, "left")
    owner, rank = spread(np.searchsorted(sorted_gaps, gap, "right") - first)
    return owner, first[owner] + rank
