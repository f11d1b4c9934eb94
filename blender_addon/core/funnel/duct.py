"""How much a full upright duct of any convex section passes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.linalg import spsolve
from scipy.spatial import Delaunay

from ..constants.common import GROUND_MM
from ..constants.funnel import DUCT_CELLS
from ..geometry.convex import area_mm2
from ..geometry.plan import edge_distances_mm

if TYPE_CHECKING:
    from ..arrays import Bools, Floats


def duct_flow_mm4(outline: Floats) -> float:
    """Return the integral of the speed in creeping flow over a section, for unit drive.

    The speed u solves div grad u = -1 and is zero at the wall; the flow is this number times
    pressure gradient by viscosity. Solved on linear triangles, so that it comes from below.

    Parameters
    ----------
    outline : ndarray, shape (k, 2)
        Convex, counter-clockwise, in mm.

    References
    ----------
    .. [1] White: Viscous Fluid Flow, 3rd ed. 2006, section 3-3 (ducts of any section).

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    >>> round(duct_flow_mm4(square), 3)  # the exact series gives 0.03514
    0.035
    """
    points, inside = _points(outline)
    triangles = Delaunay(points).simplices
    a, b, c = (points[triangles[:, k]] for k in range(3))
    doubled = np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])
    real = doubled > GROUND_MM * doubled.max()
    triangles, doubled = triangles[real], doubled[real]
    sides = np.stack([c - b, a - c, b - a], axis=1)[real]
    stiff = np.einsum("tik,tjk->tij", sides, sides) / (2.0 * doubled)[:, None, None]
    rows, columns = np.repeat(triangles, 3, axis=1).ravel(), np.tile(triangles, 3).ravel()
    matrix = coo_array((stiff.ravel(), (rows, columns)), shape=(len(points),) * 2).tocsc()
    load = np.bincount(triangles.ravel(), np.repeat(doubled / 6.0, 3), len(points))
    speed = spsolve(matrix[inside][:, inside], load[inside])
    return float(speed @ load[inside])


def _points(outline: Floats) -> tuple[Floats, Bools]:
    """Return points on the outline and inside it, and which lie inside."""
    after = np.roll(outline, -1, axis=0)
    pitch = math.sqrt(area_mm2(outline)) / DUCT_CELLS
    pieces = []
    for start, end in zip(outline, after, strict=True):
        count = max(math.ceil(float(np.linalg.norm(end - start)) / pitch), 1)
        pieces.append(start + np.linspace(0.0, 1.0, count, endpoint=False)[:, None] * (end - start))
    rim = np.vstack(pieces)
    (low_x, low_y), (high_x, high_y) = outline.min(axis=0), outline.max(axis=0)
    x, y = np.meshgrid(np.arange(low_x, high_x, pitch), np.arange(low_y, high_y, pitch))
    x[1::2] += pitch / 2.0
    grid = np.column_stack([x.ravel(), y.ravel()])
    along = after - outline
    side = along[:, 0] * (grid[:, 1, None] - outline[:, 1]) - along[:, 1] * (
        grid[:, 0, None] - outline[:, 0]
    )
    within = grid[(side > 0.0).all(axis=1)]
    within = within[edge_distances_mm(within, np.stack([outline, after], axis=1)) > pitch / 2.0]
    return np.vstack([rim, within]), np.arange(len(rim) + len(within)) >= len(rim)


def equal_round_mm(flow_mm4: float) -> float:
    """Return the diameter of the round duct that passes as much: Hagen and Poiseuille.

    Examples
    --------
    >>> round(equal_round_mm(math.pi * 12.0**4 / 128.0), 6)
    12.0
    """
    return float((128.0 * flow_mm4 / math.pi) ** 0.25)
