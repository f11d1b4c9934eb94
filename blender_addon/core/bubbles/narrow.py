"""Places that a brush-sized ball cannot reach from outside: slow to fill, bubbles stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from ..constants.bubbles import BRUSH_CELLS, LARGEST_GRID_CELLS
from ..geometry.voxels import voxels_at

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh


def narrow_faces(mesh: Mesh, ball_mm: float) -> Bools:
    """Return the faces (m,) that a ball rolled over the outside does not touch.

    Worked out on a grid of a sixth of the ball, coarser where the piece would need too many cells;
    a face counts only when it is missed by more than one and a half cells.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    ball_mm : float
        Diameter of the ball.
    """
    low, high = mesh.bounds
    room = high - low + 2.0 * ball_mm
    pitch = max(ball_mm / BRUSH_CELLS, float(np.cbrt(np.prod(room) / LARGEST_GRID_CELLS)))
    border = ball_mm + 2.0 * pitch
    nx, ny, nz = (int(count) for count in np.ceil((high - low + 2.0 * border) / pitch))
    grid = voxels_at(mesh, low - border, pitch, (nx, ny, nz))
    to_solid = ndimage.distance_transform_edt(~grid.inside) * pitch
    free, _ = ndimage.label(to_solid >= ball_mm / 2.0 + 0.5 * pitch)
    middles = free == free[0, 0, 0]  # the corner of the grid is outside
    from_ball = ndimage.distance_transform_edt(~middles) * pitch
    cells = grid.cells_of(_just_outside(mesh, pitch))
    cells = np.clip(cells, 0, np.array(grid.inside.shape) - 1)
    missed: Bools = from_ball[tuple(cells.T)] > ball_mm / 2.0 + 1.5 * pitch
    return missed


def _just_outside(mesh: Mesh, step_mm: float) -> Floats:
    vectors = mesh.vectors_mm2
    lengths = np.maximum(np.linalg.norm(vectors, axis=1), 1e-300)[:, None]
    points: Floats = mesh.corners.mean(axis=1) + 0.5 * step_mm * vectors / lengths
    return points
