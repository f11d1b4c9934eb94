"""What a closed surface holds, and what keeps it from being closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..units import CM2_PER_MM2, ML_PER_MM3

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .mesh import Mesh


def enclosed_volume_ml(mesh: Mesh) -> float:
    """Return the signed volume inside a closed surface; negative when it is inside out.

    Parameters
    ----------
    mesh : Mesh
        Closed. Of an open one the number means nothing: ask `open_edges` first.

    Returns
    -------
    float
        Volume in ml.

    References
    ----------
    .. [1] Zhang, Chen: Efficient feature extraction for 2D/3D objects in mesh representation,
       ICIP 2001.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10]]
    >>> round(enclosed_volume_ml(Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])), 9)
    1.0
    """
    if not len(mesh.faces):
        return 0.0
    centred = mesh.vertices - mesh.vertices[mesh.faces[0, 0]]  # or digits cancel far from zero
    a, b, c = (centred[mesh.faces[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0 * ML_PER_MM3)


def face_areas_mm2(mesh: Mesh) -> Floats:
    """Return each face's area, shape (m,)."""
    areas: Floats = np.linalg.norm(mesh.vectors_mm2, axis=1)
    return areas


def area_cm2(mesh: Mesh, chosen: Bools | None = None) -> float:
    """Return the area of all faces, or of those chosen (m,)."""
    areas = face_areas_mm2(mesh)
    return float(areas.sum() if chosen is None else areas[chosen].sum()) * CM2_PER_MM2


def open_edges(mesh: Mesh) -> Ints:
    """Return the directed edges that have no partner the other way, shape (k, 2).

    An edge that three faces share counts once; so does one between two faces that disagree on which
    side is out (twice). A closed oriented surface has none.
    """
    net, ends = mesh.edges.net, mesh.edges.ends
    missing = np.where((net > 0)[:, None], ends, ends[:, ::-1])
    return np.repeat(missing, np.abs(net), axis=0)
