"""One reading answers: how far below the rim the resin stands, and so what is still to mix."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import Floats, locked
from ..constants.resin import FILL_STEP_MM
from ..geometry.volume_below import volume_below_ml

if TYPE_CHECKING:
    from ..geometry.mesh import Mesh
    from ..scan.result import ScanResult
    from .shell import Cavity

LEVEL: Floats = locked([0.0, 0.0, 1.0], np.float64)
"""Where down points when the upturned mold stands level: to the top of the piece."""


@dataclass(frozen=True, eq=False)
class Leaning:
    """A mold that leans: tables of what is still to fill until it runs over at the lowest rim.

    The reading is taken plumb, from the lowest point of the rim down to the resin. ``fill_table``
    and ``cavity_table`` as in the result; ``wedge_ml`` and ``cavity_wedge_ml`` stay empty until the
    mold stands level again.
    """

    degrees: float
    towards_deg: float
    fill_table: Floats
    cavity_table: Floats
    wedge_ml: float
    cavity_wedge_ml: float


def still_to_fill_ml(table: Floats, short_mm: float) -> float:
    """Return what is still to fill when the resin stands so far below the rim.

    Parameters
    ----------
    table : ndarray, shape (n, 2)
        mm below the rim and ml.
    short_mm : float
        The reading; deeper than the mold is all of it.

    Examples
    --------
    >>> still_to_fill_ml(np.array([[0.0, 0.0], [10.0, 50.0], [20.0, 80.0]]), 15.0)
    65.0
    """
    return float(np.interp(short_mm, table[:, 0], table[:, 1]))


def down_of(degrees: float, towards_deg: float) -> Floats:
    """Return where down points in the frame of the piece when the upturned mold leans.

    Level, down is towards the top of the piece. The side at ``towards_deg`` (counter-clockwise from
    +x, the piece seen from above) is where the rim comes to lie lowest.

    Examples
    --------
    >>> down_of(30.0, 90.0).round(3).tolist()
    [0.0, 0.5, 0.866]
    """
    lean, towards = math.radians(degrees), math.radians(towards_deg)
    sine = math.sin(lean)
    return np.array([sine * math.cos(towards), sine * math.sin(towards), math.cos(lean)])


def steps_mm(deepest_mm: float, step_mm: float = FILL_STEP_MM) -> Floats:
    """Return the readings of a table, from 0 to the deepest.

    Examples
    --------
    >>> steps_mm(12.0).tolist()
    [0.0, 5.0, 10.0, 12.0]
    """
    return np.append(np.arange(0.0, deepest_mm, step_mm), deepest_mm)


def cavity_table(
    cavity: Cavity, down: Floats = LEVEL, spill_mm: float = 0.0, step_mm: float = FILL_STEP_MM
) -> tuple[Floats, float]:
    """Return the table inside the shell, and what stays empty above the spill.

    Parameters
    ----------
    cavity : Cavity
        Its cells, each taken for a slab as high as the cell is along ``down``.
    down : ndarray, shape (3,)
        Unit vector.
    spill_mm : float
        Where along it the resin runs over.
    step_mm : float
        Between two lines of the table.

    Returns
    -------
    ndarray, shape (n, 2)
        mm below the spill and ml.
    float
        In ml.
    """
    if not len(cavity.cells):
        return locked(np.zeros((1, 2)), np.float64), 0.0
    depth = cavity.cells[:, :3] @ down - spill_mm
    ml, half = cavity.cells[:, 3].astype(np.float64), cavity.pitch_mm / 2.0
    ml *= cavity.total_ml / ml.sum()  # the cells are stored in float32
    if np.array_equal(down, LEVEL):
        depth = np.maximum(depth, half)  # no part of a cell at the rim stands above it
    edges = steps_mm(max(float(depth.max()) + half, half), step_mm)
    above = _shares_above(depth, ml, half, edges)
    table = np.column_stack([edges, above - above[0]])
    return locked(table, np.float64), float(above[0])


def _shares_above(depth: Floats, ml: Floats, half: float, edges: Floats) -> Floats:
    """Sum what lies above each edge, cells spread evenly over their height."""
    order = np.argsort(depth)
    depth, ml = depth[order], ml[order]
    whole, moment = (np.concatenate([[0.0], np.cumsum(one)]) for one in (ml, ml * depth))
    first, last = (np.searchsorted(depth, edges + by) for by in (-half, half))
    part_ml, part_moment = whole[last] - whole[first], moment[last] - moment[first]
    cut: Floats = (part_ml * (edges + half) - part_moment) / (2.0 * half)
    return whole[first] + cut


def leaning_of(
    copy: Mesh, scan: ScanResult, cavity: Cavity, degrees: float, towards_deg: float
) -> Leaning:
    """Return the tables of a mold that leans.

    Parameters
    ----------
    copy : Mesh
        With the riser, down to z = 0.
    scan : ScanResult
        Whose riser's outline is the rim.
    cavity : Cavity
        What the shell leaves open.
    degrees, towards_deg : float
        As `down_of` takes them.
    """
    down = down_of(degrees, towards_deg)
    spill_mm = float(max((np.max(one @ down[:2]) for one in scan.riser_outline), default=0.0))
    turned = copy.with_vertices(copy.vertices @ _to_z(down).T)
    deepest = float(turned.bounds[1][2]) - spill_mm
    depth = steps_mm(max(deepest, 0.0))
    below = volume_below_ml(turned, depth + spill_mm)
    inside, wedge = cavity_table(cavity, down, spill_mm)
    table = locked(np.column_stack([depth, below - below[0]]), np.float64)
    return Leaning(degrees, towards_deg, table, inside, float(below[0]), wedge)


def _to_z(down: Floats) -> Floats:
    """Return a rotation (3, 3) that brings a unit vector in the upper half to +z."""
    x, y, z = down
    return np.array([
        [1.0 - x * x / (1.0 + z), -x * y / (1.0 + z), -x],
        [-x * y / (1.0 + z), 1.0 - y * y / (1.0 + z), -y],
        [x, y, z],
    ])  # fmt: skip
