"""Scanner dust: loose pieces too small to be part of the sculpture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.connect import chosen_faces, piece_of_faces
from ..geometry.solid import face_areas_mm2

if TYPE_CHECKING:
    from ..arrays import Ints
    from ..geometry.mesh import Mesh


@dataclass(frozen=True, eq=False)
class Kept:
    """What is left, and the numbers (k,) of the faces it was."""

    mesh: Mesh
    kept: Ints


def without_specks(mesh: Mesh, least_percent: float) -> tuple[Kept, int]:
    """Drop pieces with less than a share of all the surface; the largest always stays.

    Returns
    -------
    kept : Kept
    count : int
        How many pieces were dropped.
    """
    count, piece = piece_of_faces(mesh)
    area = np.bincount(piece, face_areas_mm2(mesh), minlength=count)
    large = area >= least_percent / 100.0 * area.sum()
    large[np.argmax(area)] = True
    faces = np.flatnonzero(large[piece])
    dropped = int(np.count_nonzero(~large))
    return Kept(chosen_faces(mesh, faces) if dropped else mesh, faces), dropped
