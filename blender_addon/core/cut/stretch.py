"""How far the rubber must stretch to let the piece out, and how hard that pulls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import erfinv

from ..constants.common import ATMOSPHERE_PA
from ..constants.cut import MINOR_PART_SHARE, RUESS_FROM_TO

if TYPE_CHECKING:
    from ..arrays import Floats
    from .rings import Rings


@dataclass(frozen=True, eq=False)
class StretchCurve:
    """By height (n,), from the base to the top: girths in mm and the stretch needed there.

    ``ring_mm`` is what the ring of rubber measures by the convex hull and ``contour_mm`` by the
    true line, ``passing_mm`` what of the piece has to pass it, ``at_mm`` (n, 2) its middle.
    """

    heights_mm: Floats
    ring_mm: Floats
    contour_mm: Floats
    passing_mm: Floats
    needed: Floats
    at_mm: Floats


def stretch_curve(rings: Rings, heights_mm: Floats) -> StretchCurve:
    """Return at each height the ring that has most to stretch, small parts left out.

    Heights at which only small parts are met, or none, are left out, too.

    Examples
    --------
    A ball of 70 mm behind a neck of 40 mm [1]_:

    >>> from blender_addon.core.cut.rings import Rings
    >>> neck, ball = np.pi * 40.0, np.pi * 70.0
    >>> rings = Rings(np.array([0, 1]), np.array([neck, ball]), np.array([neck, ball]),
    ...               np.array([ball, ball]), np.zeros((2, 2)))
    >>> stretch_curve(rings, np.array([10.0, 50.0])).needed.round(9).tolist()
    [0.75, 0.0]

    References
    ----------
    .. [1] Hoop strain is the change of a ring's length by its length: engineering strain, ISO 37.
    """
    rows = np.full(len(heights_mm), -1)
    large = rings.passing_mm >= MINOR_PART_SHARE * np.max(rings.passing_mm, initial=0.0)
    rank = np.argsort(rings.stretch, kind="stable")
    rank = rank[large[rank]]
    rows[rings.level[rank]] = rank  # the last wins: the most to stretch
    met = rows >= 0
    kept = rows[met]
    return StretchCurve(
        heights_mm[met], rings.ring_mm[kept], rings.contour_mm[kept], rings.passing_mm[kept],
        rings.stretch[kept], rings.at_mm[kept],
    )  # fmt: skip


def slit_top_mm(heights_mm: Floats, needed: Floats, allowed: float) -> float:
    """Return the highest place that must stretch too far, minus infinity if there is none."""
    return float(np.max(heights_mm[needed > allowed], initial=-np.inf))


def modulus_mpa(shore_a: float) -> float:
    """Return Young's modulus from the hardness.

    Relations like this differ by more than two times for soft rubber: a guide, never a promise.

    References
    ----------
    .. [1] A. N. Gent, Rubber Chem. Technol. 31 (1958) 896.

    Examples
    --------
    >>> round(modulus_mpa(20.0), 4)
    0.7319
    """
    return 0.0981 * (56.0 + 7.62336 * shore_a) / (0.137505 * (254.0 - 2.54 * shore_a))


def moduli_mpa(shore_a: float) -> tuple[float, float]:
    """Return the least and the most of Young's modulus by three relations with the hardness.

    The second holds from 20 to 80 only.

    References
    ----------
    .. [1] A. N. Gent, Rubber Chem. Technol. 31 (1958) 896.
    .. [2] log10 E = 0.0235 S - 0.6403, attributed to Ruess; see Qi, Joyce, Boyce, Rubber Chem.
       Technol. 76 (2003) 419.
    .. [3] S = 100 erf(3.186e-4 sqrt(E)), E in Pa, quoted for BS 903: from memory.

    Examples
    --------
    >>> [round(one, 4) for one in moduli_mpa(20.0)], [round(one, 3) for one in moduli_mpa(40.0)]
    ([0.3162, 0.7319], [1.355, 1.994])
    """
    found = [modulus_mpa(shore_a), float(erfinv(shore_a / 100.0) / 3.186e-4) ** 2 * 1e-6]
    if RUESS_FROM_TO[0] <= shore_a <= RUESS_FROM_TO[1]:
        found.append(10.0 ** (0.0235 * shore_a - 0.6403))
    return min(found), max(found)


def stress_mpa(stretch: float, young_mpa: float) -> float:
    """Return the pull by the area before stretching, neo-Hookean, in MPa.

    References
    ----------
    .. [1] L. R. G. Treloar: The physics of rubber elasticity, 3rd ed., 1975.

    Examples
    --------
    >>> round(stress_mpa(0.5, modulus_mpa(20.0)), 4)
    0.2575
    """
    ratio = 1.0 + stretch
    return young_mpa / 3.0 * (ratio - ratio**-2)


def suction_n(area_mm2: float) -> float:
    """Return the most that a vacuum under sealed rubber can hold against a pull.

    Examples
    --------
    >>> round(suction_n(6000.0), 2)
    607.95
    """
    return area_mm2 * ATMOSPHERE_PA * 1e-6
