"""Marks from files: patches of surface that lie on the scan where no cut may go."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import KDTree

from ..constants.cut import PATCH_REACH_SHARE, SAME_PLACE_SHARE
from ..errors import UnusableMeshError
from ..geometry.near_surface import NearSurface
from ..geometry.short_edges import in_small_triangles
from .marks import NO_MARKS, Marks

if TYPE_CHECKING:
    from collections.abc import Mapping

    from ..arrays import Bools, Floats
    from ..geometry.mesh import Mesh


def marks_of_patches(mesh: Mesh, patches: Mapping[str, Mesh]) -> Marks:
    """Return the faces of a scan that patches lie on.

    Of a patch that is cut out of the scan itself, its very faces. Of one that was drawn over it, or
    comes from a coarser scan, all faces whose middles it covers, within a hundredth of the scan's
    size, and each face that is nearest to some place of it.

    Parameters
    ----------
    mesh : Mesh
        The scan as it was read.
    patches : mapping of str to Mesh
        By the name to call each by in an error; in the coordinates of the scan's file.

    Raises
    ------
    UnusableMeshError
        If a patch lies nowhere on the scan.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> floor = Mesh([[0, 0, 0], [9, 0, 0], [9, 9, 0], [0, 9, 0]], [[0, 1, 2], [0, 2, 3]])
    >>> half = Mesh([[0, 0, 0], [9, 0, 0], [9, 9, 0]], [[0, 1, 2]])
    >>> marks_of_patches(floor, {"half": half}).faces.tolist()
    [True, False]
    """
    if not patches:
        return NO_MARKS
    low, high = mesh.bounds
    size = float(np.linalg.norm(high - low))
    middles = mesh.corners.mean(axis=1)
    tree = KDTree(middles)
    marked = np.zeros(len(middles), dtype=np.bool_)
    for name, patch in patches.items():
        own, faces = tree.query(patch.corners.mean(axis=1))
        if (own <= SAME_PLACE_SHARE * size).all():
            marked[faces] = True
        else:
            marked |= _covered(mesh, middles, patch, name, PATCH_REACH_SHARE * size)
    return Marks(marked)


def _covered(mesh: Mesh, middles: Floats, patch: Mesh, name: str, reach_mm: float) -> Bools:
    """Return the faces that a patch lies on."""
    small = in_small_triangles(patch.corners, 2.0 * reach_mm)
    low, high = patch.bounds
    near = ((middles >= low - reach_mm) & (middles <= high + reach_mm)).all(axis=1)
    marked = np.zeros(len(middles), dtype=np.bool_)
    rows = np.flatnonzero(near)
    if len(rows):
        spots, _ = NearSurface(small).nearest(middles[rows])
        marked[rows] = np.linalg.norm(spots - middles[rows], axis=1) <= reach_mm
    places = small.mean(axis=1)
    spots, faces = NearSurface(mesh.corners).nearest(places)
    off = np.linalg.norm(spots - places, axis=1)
    marked[faces[off <= reach_mm]] = True
    if not marked.any():
        message = (
            f"{name}: this patch lies nowhere on the scan; its nearest place is"
            f" {float(off.min()):.4g} off, and {reach_mm:.4g} is the most. Cut it out of the scan,"
            " or draw it over it, in the same coordinates and unit."
        )
        raise UnusableMeshError(message)
    return marked
