"""The foot of the master: which faces stand on the riser, and the riser's outline."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.scan import LEAST_FOOT_MM2
from ..geometry.outline import outline_at

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh


def faces_on_the_riser(mesh: Mesh, seam_mm: float) -> Bools:
    """Return which faces (m,) look down and lie within ``seam_mm`` of the lowest point."""
    lowest = mesh.vertices[:, 2].min()
    vectors = mesh.vectors_mm2
    down = vectors[:, 2] < -0.5 * np.linalg.norm(vectors, axis=1)
    bools: Bools = down & (mesh.corners[:, :, 2].max(axis=1) <= lowest + seam_mm)
    return bools


def riser_outline(mesh: Mesh, seam_mm: float) -> tuple[Floats, ...]:
    """Return the outer outlines of the foot, just above the lowest point.

    Hollows inside them are filled: the riser is one solid block under each foot.
    """
    lowest = float(mesh.vertices[:, 2].min())
    lines = outline_at(mesh, lowest + seam_mm)
    section = manifold3d.CrossSection(lines, manifold3d.FillRule.Positive).simplify(0.02)
    outer = [
        np.array(line)
        for line in section.to_polygons()
        if _area_mm2(np.array(line)) > LEAST_FOOT_MM2
    ]
    return tuple(outer)


def _area_mm2(line: Floats) -> float:
    x, y = line.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
