"""How hard it is to open the mold, in a word and in newtons."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import EASY_PULL_N, HARD_PULL_N, LIP_HEIGHT_MM, PULL_STEPS, TEAR_SHARE
from ..geometry.convex import area_mm2
from ..geometry.hull import hull_corners
from .result import Pull
from .stretch import moduli_mpa, modulus_mpa, stress_mpa, suction_n

if TYPE_CHECKING:
    from ..geometry.mesh import Mesh
    from .lips import Lips
    from .settings import CutSettings
    from .stretch import StretchCurve


def pull_at(
    curve: StretchCurve,
    top_mm: float,
    thickness_mm: float,
    settings: CutSettings,
    lips: Lips | None = None,
) -> Pull:
    """Return what opening takes once the slit goes up to a height.

    The rings above the slit's end still have to stretch, and so have the slit's lips with the ring
    that they open; the harder of both is taken, and a lip as high as two hands hold.

    Parameters
    ----------
    curve : StretchCurve
    top_mm : float
        The slit's end.
    thickness_mm : float
        Of the rubber there.
    settings : CutSettings
        The rubber.
    lips : Lips, optional
        Of the slit.
    """
    rims = [] if lips is None else [(lips.stretch, lips.rim_mm)]
    above = np.flatnonzero(curve.heights_mm > top_mm)
    if len(above):
        row = above[curve.needed[above].argmax()]
        rims.append((float(curve.needed[row]), float(curve.ring_mm[row])))
    shore = settings.hardness_shore_a
    force = max(
        (lip_pull_n(one, thickness_mm, shore, rim / (2.0 * np.pi)) for one, rim in rims),
        default=0.0,
    )
    stretch = max((one for one, _ in rims), default=0.0)
    return _pull(force, stretch, thickness_mm, settings)


def pull_of_halves(stretch: float, thickness_mm: float, settings: CutSettings) -> Pull:
    """Return what pulling two halves apart takes, by the stretch that the tighter one needs."""
    force = lip_pull_n(stretch, thickness_mm, settings.hardness_shore_a)
    return _pull(force, stretch, thickness_mm, settings)


def _pull(force_n: float, stretch: float, thickness_mm: float, settings: CutSettings) -> Pull:
    """Return a pull with its bounds: it is in proportion to the modulus."""
    least, most = moduli_mpa(settings.hardness_shore_a)
    by_mpa = force_n / modulus_mpa(settings.hardness_shore_a)
    torn = stretch > TEAR_SHARE * settings.elongation_percent / 100.0
    word = pull_word(least * by_mpa, most * by_mpa, torn=torn)
    return Pull(word, force_n, stretch, thickness_mm, least_n=least * by_mpa, most_n=most * by_mpa)


def most_suction_n(mesh: Mesh) -> float:
    """Return the most that suction can hold a piece with against a pull straight up.

    What it covers in plan is counted with the gaps between its parts.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [100, 0, 0], [0, 120, 0], [20, 20, 90]]
    >>> tent = Mesh(corners, [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]])
    >>> round(most_suction_n(tent), 2)
    607.95
    """
    return suction_n(area_mm2(hull_corners(mesh.vertices[:, :2])))


def lip_pull_n(
    stretch: float, thickness_mm: float, shore_a: float, inner_radius_mm: float = np.inf
) -> float:
    """Return the pull on one lip of a thickness, 30 mm high.

    Round a hole the rubber stretches less the farther out it is: what does not change its volume
    keeps the area between a circle and the hole. The stress is summed over the thickness.

    Parameters
    ----------
    stretch : float
        Of the ring next to the piece.
    thickness_mm : float
    shore_a : float
    inner_radius_mm : float
        Of that ring; infinite for a lip that stretches as a whole.

    Examples
    --------
    >>> round(lip_pull_n(0.5, 15.0, 20.0), 1), round(lip_pull_n(0.5, 15.0, 20.0, 20.0), 1)
    (115.9, 78.2)
    """
    young = modulus_mpa(shore_a)
    if not np.isfinite(inner_radius_mm):
        return stress_mpa(stretch, young) * thickness_mm * LIP_HEIGHT_MM
    radius = inner_radius_mm + thickness_mm * (np.arange(PULL_STEPS) + 0.5) / PULL_STEPS
    grown = inner_radius_mm**2 * ((1.0 + stretch) ** 2 - 1.0)
    ratio = np.sqrt(radius**2 + grown) / radius
    mean = float(np.mean(young / 3.0 * (ratio - ratio**-2)))
    return mean * thickness_mm * LIP_HEIGHT_MM


def pull_word(least_n: float, most_n: float, *, torn: bool) -> str:
    """Return a plain word for a pull that is known between two bounds.

    It is "do not" only where even the least is too much: of soft rubber the bounds are more than
    two times apart.

    Examples
    --------
    >>> pull_word(20.0, 50.0, torn=False), pull_word(110.0, 260.0, torn=False)
    ('easy', 'hard')
    >>> pull_word(260.0, 600.0, torn=False), pull_word(20.0, 50.0, torn=True)
    ('do not', 'do not')
    """
    if torn or least_n > HARD_PULL_N:
        return "do not"
    return "easy" if most_n <= EASY_PULL_N else "hard"
