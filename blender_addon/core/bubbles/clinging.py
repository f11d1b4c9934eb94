"""Undersides so flat that small bubbles cling to them, though air could creep away."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Bools
    from ..geometry.mesh import Mesh


def clinging_faces(mesh: Mesh, flatter_than_deg: float) -> Bools:
    """Return the faces (m,) that look down within an angle of straight down.

    15 degrees hold bubbles, up to 30 deserve a look: common practice, no source.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> clinging_faces(Mesh([[0, 0, 0], [0, 9, 0], [9, 0, 1]], [[0, 1, 2]]), 15.0).tolist()
    [True]
    """
    vectors = mesh.vectors_mm2
    lengths = np.linalg.norm(vectors, axis=1)
    flat: Bools = (vectors[:, 2] <= -np.cos(np.radians(flatter_than_deg)) * lengths) & (lengths > 0)
    return flat
