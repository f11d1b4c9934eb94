"""Undersides so flat that small bubbles cling to them, though air could creep away."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..geometry.smooth import smooth_normals

if TYPE_CHECKING:
    from ..arrays import Bools
    from ..geometry.mesh import Mesh


def clinging_faces(mesh: Mesh, flatter_than_deg: float, noise_mm: float = 0.0) -> Bools:
    """Return the faces (m,) that look down within an angle of straight down.

    Normals are averaged over the radius ``noise_mm``, so that a scan's noise does not speckle it.

    15 degrees hold bubbles, up to 30 deserve a look: common practice, no source.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> clinging_faces(Mesh([[0, 0, 0], [0, 9, 0], [9, 0, 1]], [[0, 1, 2]]), 15.0).tolist()
    [True]
    """
    normals = smooth_normals(mesh, noise_mm)
    flat: Bools = normals[:, 2] <= -np.cos(np.radians(flatter_than_deg))
    return flat
