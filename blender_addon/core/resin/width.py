"""How fast heat leaves the hollow sideways, told as the thickness of an upright slab."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.linalg import splu

from ..arrays import locked
from ..constants.resin import (
    FILL_STEP_MM,
    LEVEL_OUTLINE_MM,
    MOST_LEVELS,
    WIDTH_CELLS,
    WIDTH_ROUNDS,
)
from ..geometry.manifold import to_mesh
from ..geometry.outline import outlines_at
from ..geometry.voxels import voxels_at

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh


def slab_mm(deep_mm: float, wide_mm: float) -> float:
    """Return the thickness of the slab that cools as slowly as a fill.

    Heat decays as exp(-a k t); k of a body is at least the k of its height, (pi / height)^2, and
    the least k of its level sections together, and just that where all sections are alike.

    Parameters
    ----------
    deep_mm : float
        Height of the fill.
    wide_mm : float
        Of the upright slab that cools sideways as slowly as its widest section.

    References
    ----------
    .. [1] Carslaw, Jaeger: Conduction of heat in solids, 2nd ed. 1959, section 1.15: solutions of
       two slabs at right angles multiply.

    Examples
    --------
    >>> round(slab_mm(30.0, 40.0), 9), slab_mm(30.0, math.inf)
    (24.0, 30.0)
    """
    return deep_mm / math.hypot(1.0, deep_mm / wide_mm) if wide_mm > 0.0 else 0.0


def level_widths(copy: Mesh, shell_mm: float) -> Floats:
    """Return how slowly each level section of the hollow cools sideways.

    The section is that of the copy less the shell, which is never smaller than that of the hollow.

    Parameters
    ----------
    copy : Mesh
        Closed, from the rim at z = 0 up.
    shell_mm : float
        Thickness of the shell.

    Returns
    -------
    ndarray, shape (n, 2)
        mm below the rim, and the thickness in mm of the upright slab that cools as slowly as the
        widest piece of the section there; 0 where the shell is all there is.
    """
    deepest = float(copy.bounds[1][2])
    count = min(max(math.ceil(deepest / FILL_STEP_MM), 1), MOST_LEVELS)
    depth = np.linspace(0.0, deepest, count + 1)
    heights = np.clip(depth, LEVEL_OUTLINE_MM, max(deepest - LEVEL_OUTLINE_MM, LEVEL_OUTLINE_MM))
    wide = [_width_mm(lines, shell_mm) for lines in outlines_at(copy, heights)]
    return locked(np.column_stack([depth, wide]), np.float64)


def _width_mm(outlines: list[Floats], shell_mm: float) -> float:
    lines = [np.array(one) for one in outlines]
    section = manifold3d.CrossSection(lines, manifold3d.FillRule.Positive)
    inner = section.offset(-shell_mm, manifold3d.JoinType.Round, 2.0, 64)
    pieces = inner.simplify(LEVEL_OUTLINE_MM).decompose()
    return max((section_width_mm(piece) for piece in pieces), default=0.0)


def section_width_mm(section: manifold3d.CrossSection) -> float:
    """Return the thickness of the slab that cools as slowly as an endless bar of some section.

    It is pi over the root of the least k of div grad u = -k u with u = 0 on the outline, found by
    inverse iteration on square cells. Never told too small: the cells outside are what is cold, and
    k is bounded from below by the least ratio of two rounds [1]_.

    References
    ----------
    .. [1] Collatz: Einschliessungssatz fuer die charakteristischen Zahlen von Matrizen, Math. Z.
       48, 1942.

    Examples
    --------
    >>> square = manifold3d.CrossSection.square((30.0, 30.0))
    >>> 1.0 <= section_width_mm(square) / (30.0 / math.sqrt(2.0)) < 1.07
    True
    """
    pitch = math.sqrt(section.area() / WIDTH_CELLS)
    if pitch <= 0.0:
        return 0.0
    left, low, right, high = section.bounds()
    shape = (math.ceil((right - left) / pitch) + 2, math.ceil((high - low) / pitch) + 2, 1)
    middle = np.array([left - pitch / 2.0, low - pitch / 2.0, 0.0])
    bar = to_mesh(section.extrude(2.0 * pitch).translate((0.0, 0.0, -pitch)))
    inside = voxels_at(bar, middle, pitch, shape).inside[:, :, 0]
    return math.pi * pitch / math.sqrt(_least_decay(inside)) if inside.any() else 2.0 * pitch


def _least_decay(inside: Bools) -> float:
    """Return k of cells with a cold rim, by the square of the pitch, from below."""
    cells = int(np.count_nonzero(inside))
    number = np.full(inside.shape, -1)
    number[inside] = np.arange(cells)
    pairs = np.vstack(
        [
            np.column_stack([number[:-1].ravel(), number[1:].ravel()]),
            np.column_stack([number[:, :-1].ravel(), number[:, 1:].ravel()]),
        ]
    )
    a, b = pairs[(pairs >= 0).all(axis=1)].T
    entries = np.concatenate([np.full(cells, 4.0), np.full(2 * len(a), -1.0)])
    own = np.arange(cells)
    rows, columns = np.concatenate([own, a, b]), np.concatenate([own, b, a])
    solve = splu(
        coo_array((entries, (rows, columns)), shape=(cells, cells)).tocsc(), "MMD_AT_PLUS_A"
    ).solve
    before, after = np.ones(cells), solve(np.ones(cells))
    for _ in range(WIDTH_ROUNDS):
        before = after / after.max()
        after = solve(before)
    return float(np.min(before / after))
