"""How thick a printed wall must be for the rubber's pressure at its foot."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats
    from .bore import Bore

_STEP_MM = 1.0


def wall_needed_mm(bore: Bore, pressure_mpa: float, allowed_mpa: float) -> float:
    """Return the least wall of a case, taken as a ring at its foot that nothing else holds.

    A round ring is only pulled; any other is bent as well, most where it is flat. That the board
    holds the foot is left out, to be on the safe side.

    Parameters
    ----------
    bore : Bore
        The inside; its seams lie in the plane y = 0.
    pressure_mpa : float
        At the foot, over that of the air.
    allowed_mpa : float
        Tension that the material is trusted with.

    References
    ----------
    .. [1] Timoshenko: Strength of Materials, part I, 3rd ed. 1955, chapters 5 and 12 (bending,
       thin rings; from memory): stress = pull / t + 6 moment / t^2 for each mm of height.

    Examples
    --------
    >>> from blender_addon.core.case.bore import round_bore
    >>> round(wall_needed_mm(round_bore(160.0), 0.0035304, 0.07061), 2)
    4.0
    """
    moment, pull = ring_loads(bore)
    pulled, bent = pressure_mpa * pull, pressure_mpa * moment
    return (pulled + math.sqrt(pulled**2 + 24.0 * bent * allowed_mpa)) / (2.0 * allowed_mpa)


def ring_loads(bore: Bore) -> tuple[float, float]:
    """Return the largest bending moment and pull in a ring under a pressure of 1, mm2 and mm.

    Where the seams turn freely and where they are stiff: the worse of both counts.

    Notes
    -----
    Pressure on a stretch of the ring pushes as it would on the straight line between its ends. So
    the moment is half of the squared distance from some pole, plus a constant. Pole and constant
    follow from what closes the ring: with stiff seams the moment, and its products with x and y,
    sum to nothing all round; with free ones it vanishes at the seams, and its product with y sums
    to nothing, as both halves stay as wide as each other.

    Examples
    --------
    >>> from blender_addon.core.case.bore import round_bore
    >>> ring_loads(round_bore(160.0))
    (0.0, 80.0)
    """
    if bore.is_round:
        return 0.0, bore.radius_mm
    points, lengths, normals = _stretches(bore)
    stiff, free = _stiff(points, lengths, normals), _free(bore, points, lengths, normals)
    return max(stiff[0], free[0]), max(stiff[1], free[1])


def _stretches(bore: Bore) -> tuple[Floats, Floats, Floats]:
    """Return middles (n, 2), lengths (n,), outward normals (n, 2) of short pieces of the ring."""
    start = bore.outline_mm
    sides = np.roll(start, -1, axis=0) - start
    length = np.linalg.norm(sides, axis=1)
    start, sides, length = start[length > 0.0], sides[length > 0.0], length[length > 0.0]
    counts = np.maximum(np.ceil(length / _STEP_MM).astype(int), 1)
    which = np.repeat(np.arange(len(start)), counts)
    rank = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (rank + 0.5) / counts[which]
    normals = np.column_stack([sides[:, 1], -sides[:, 0]]) / length[:, None]
    return start[which] + share[:, None] * sides[which], (length / counts)[which], normals[which]


def _stiff(points: Floats, lengths: Floats, normals: Floats) -> tuple[float, float]:
    basis = np.column_stack([points, np.ones(len(points))])
    weight = np.sqrt(lengths)
    square = (points**2).sum(axis=1)
    share = np.linalg.lstsq(basis * weight[:, None], square * weight, rcond=None)[0]
    moment = (square - basis @ share) / 2.0
    pull = np.einsum("ij,ij->i", points - share[:2] / 2.0, normals)
    return float(np.abs(moment).max()), float(np.abs(pull).max())


def _free(bore: Bore, points: Floats, lengths: Floats, normals: Floats) -> tuple[float, float]:
    left, right = bore.seam_x_mm
    x, y = points.T
    square = (x - left) * (x - right) + y**2
    push = (square * y * lengths).sum() / (y**2 * lengths).sum()
    moment = (square - push * y) / 2.0
    pole = np.array([(left + right) / 2.0, push / 2.0])
    pull = np.einsum("ij,ij->i", points - pole, normals)
    return float(np.abs(moment).max()), float(np.abs(pull).max())
