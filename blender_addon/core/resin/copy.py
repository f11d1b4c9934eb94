"""The copy: the master together with the riser under it, and which of its faces touch rubber."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.manifold import prism, to_mesh
from ..geometry.mesh import Mesh

if TYPE_CHECKING:
    from ..arrays import Bools
    from ..scan.result import ScanResult


@dataclass(frozen=True, eq=False)
class Copy:
    """Closed pieces that touch where master and riser meet; ``in_rubber`` (m,) by face of ``mesh``.

    z = 0 is the rim that the resin is poured over: nothing bounds the copy there.
    """

    mesh: Mesh
    in_rubber: Bools


def copy_of(scan: ScanResult, below_mm: float = 0.0, into_mm: float = 0.0) -> Copy:
    """Return what the mold will cast.

    Parameters
    ----------
    scan : ScanResult
        The master on its riser. One that stands on a point has no outline, and is all there is.
    below_mm : float
        How far the riser goes on below the rim.
    into_mm : float
        How far it goes on up into the master, over what wax seals under a base that is not flat.
    """
    master, on_base = scan.mesh, ~scan.base_faces
    if scan.riser_mm + below_mm <= 0.0 or not scan.riser_outline:
        return Copy(master, on_base)
    riser = to_mesh(prism(scan.riser_outline, -below_mm, scan.riser_mm + into_mm))
    vectors = np.abs(riser.vectors_mm2)
    upright = vectors[:, 2] < vectors[:, 0] + vectors[:, 1]
    vertices = np.vstack([master.vertices, riser.vertices])
    faces = np.vstack([master.faces, riser.faces + len(master.vertices)])
    return Copy(Mesh(vertices, faces), np.concatenate([on_base, upright]))
