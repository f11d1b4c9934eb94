"""Stretches of columns as one closed body of layers, for air round a surface that is no solid."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.bubbles import BLOCK_OVERLAP_SHARE, MOST_LAYERS
from ..geometry.manifold import prism, to_mesh

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..geometry.rows import Grid


def blocks(cell: Ints, low_mm: Floats, high_mm: Floats, grid: Grid) -> Mesh:
    """Return the body of some stretches of columns, in level layers as thick as a cell is wide.

    Parameters
    ----------
    cell : ndarray, shape (k,)
        Of each stretch.
    low_mm, high_mm : ndarray, shape (k,)
        Where it begins and ends; at least one higher than zero.
    grid : Grid

    Examples
    --------
    >>> from blender_addon.core.geometry.rows import Grid
    >>> from blender_addon.core.geometry.solid import enclosed_volume_ml
    >>> grid = Grid(0.0, 0.0, 10.0, 4, 4)
    >>> bar = blocks(np.array([5, 9]), np.zeros(2), np.full(2, 5.0), grid)
    >>> round(enclosed_volume_ml(bar), 2)
    1.0
    """
    bottom, top = float(low_mm.min()), float(high_mm.max())
    count = max(min(int(np.ceil((top - bottom) / grid.pitch_mm)), MOST_LAYERS), 1)
    heights_mm = np.linspace(bottom, top, count + 1)
    layers, start, last = [], bottom, np.zeros(0, dtype=np.int64)
    for from_mm, to_mm in itertools.pairwise(heights_mm.tolist()):
        middle_mm = (from_mm + to_mm) / 2.0
        inside = np.unique(cell[(low_mm <= middle_mm) & (middle_mm < high_mm)])
        if not np.array_equal(inside, last):
            layers += _layer(last, start, from_mm, grid)
            start, last = from_mm, inside
    layers += _layer(last, start, top, grid)
    layers = layers or _layer(cell, bottom, top, grid)  # thinner than the layers are apart
    return to_mesh(manifold3d.Manifold.batch_boolean(layers, manifold3d.OpType.Add))


def _layer(cell: Ints, low_mm: float, high_mm: float, grid: Grid) -> list[manifold3d.Manifold]:
    return [prism(rectangles(cell, grid, margin=0), low_mm, high_mm)] if len(cell) else []


def rectangles(cell: Ints, grid: Grid, *, margin: int, beyond: float = 0.0) -> list[Floats]:
    """Return rectangles (4, 2) that together cover cells and a margin of cells round them.

    Each reaches a hair over its edge, so that cells that meet in a corner are joined, and a share
    of a cell ``beyond`` that.
    """
    i, j = np.divmod(np.unique(cell), grid.ny)
    chosen = np.zeros((grid.nx + 2 * margin, grid.ny + 2 * margin), dtype=bool)
    for x in range(2 * margin + 1):
        for y in range(2 * margin + 1):
            chosen[i + x, j + y] = True
    first, last, row = _runs(chosen)
    half = grid.pitch_mm * (0.5 + BLOCK_OVERLAP_SHARE + beyond)
    x_mm = grid.x_mm + (row - margin) * grid.pitch_mm
    start_mm, end_mm = (grid.y_mm + (at - margin) * grid.pitch_mm for at in (first, last))
    left, right, low, high = x_mm - half, x_mm + half, start_mm - half, end_mm + half
    corners = np.stack(
        [np.column_stack(xy) for xy in ((left, low), (right, low), (right, high), (left, high))],
        axis=1,
    )
    return list(corners)


def _runs(chosen: Bools) -> tuple[Ints, Ints, Ints]:
    """Return the first, the last and the row of each run of chosen cells along the rows."""
    padded = np.pad(chosen, ((0, 0), (1, 1))).astype(np.int8)
    step = np.diff(padded, axis=1)
    row, first = np.nonzero(step == 1)
    _, after = np.nonzero(step == -1)
    return first, after - 1, row
