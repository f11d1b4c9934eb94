"""How much of a solid lies below a height: exact, for many heights at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..units import ML_PER_MM3
from .ranges import spread

if TYPE_CHECKING:
    from ..arrays import Floats
    from .mesh import Mesh


def volume_below_ml(mesh: Mesh, heights_mm: Floats) -> Floats:
    """Return the volume of a closed mesh below each horizontal plane.

    The divergence theorem on the part below the plane z = h, with the field (0, 0, z - h), which is
    zero on the cut itself: volume = sum over the triangles of the integral of (z - h) n_z over what
    of them lies below. That integral is a cubic in h for a triangle that the plane crosses.

    Parameters
    ----------
    mesh : Mesh
        Closed, facing outward. Where pieces overlap the volume counts as often.
    heights_mm : ndarray, shape (n,)
        Ascending.

    Returns
    -------
    ndarray, shape (n,)
        In ml.

    References
    ----------
    .. [1] Gauss's theorem; Mirtich: Fast and accurate computation of polyhedral mass properties,
       Journal of Graphics Tools 1(2), 1996.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> volume_below_ml(wedge, np.array([0.0, 5.0, 10.0])).round(9).tolist()
    [0.0, 0.875, 1.0]
    """
    if not len(mesh.faces):
        return np.zeros(len(heights_mm))
    corners = mesh.corners
    base = corners[0, 0]
    heights = heights_mm - base[2]
    flat = corners[:, :, :2] - base[:2]  # or digits cancel far from zero
    first, second = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    plan = (first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]) / 2.0
    z = np.sort(corners[:, :, 2] - base[2], axis=1)
    total = _passed(plan, z, heights)
    first, last = (np.searchsorted(heights, z[:, k], side="right") for k in (0, 2))
    face, rank = spread(last - first)
    level = first[face] + rank
    part = _crossed(plan[face], z[face], heights[level])
    total += np.bincount(level, weights=part, minlength=len(heights))
    return total * ML_PER_MM3


def _passed(plan: Floats, z: Floats, heights: Floats) -> Floats:
    """Sum the triangles whose highest corner lies below the plane."""
    passed_at = np.searchsorted(heights, z[:, 2], side="right")
    count = len(heights) + 1
    moment = np.cumsum(np.bincount(passed_at, weights=plan * z.mean(axis=1), minlength=count))
    area = np.cumsum(np.bincount(passed_at, weights=plan, minlength=count))
    total: Floats = moment[:-1] - heights * area[:-1]
    return total


def _crossed(plan: Floats, z: Floats, height: Floats) -> Floats:
    """Integrate z - height over the part below of triangles with low < height <= high."""
    low, middle, high = z.T
    under_middle = height <= middle
    tip = np.where(under_middle, height - low, high - height)
    beside = np.where(under_middle, middle - low, high - middle)
    cubic = np.divide(
        tip**3, 3.0 * beside * (high - low), out=np.zeros_like(tip), where=beside > 0.0
    )
    part: Floats = plan * np.where(under_middle, -cubic, z.mean(axis=1) - height - cubic)
    return part
