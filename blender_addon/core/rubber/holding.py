"""What must be held, and how: seams by bands of tape, the base, a master that would float."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants.common import G_PER_KG, GRAVITY_M_S2
from ..constants.rubber import (
    FEWEST_BANDS,
    HOLD_FACTOR,
    OPEN_SEAM_MM,
    TAPE_BEARS_N_MM,
    TAPE_WIDE_MM,
)
from ..sentences import Sentence, a_length, some_lengths
from ..units import mass_text

if TYPE_CHECKING:
    from .result import Forces

M_PER_MM = 1e-3
M3_PER_ML = 1e-6
MM3_PER_ML = 1e3
ML_MIN_PER_M3_S = 6e7


@dataclass(frozen=True)
class Holding:
    """What to hold with, at the least: ``seam_n`` each seam, ``base_n`` the base.

    ``band_z_mm`` are the heights of bands of tape right round the case. ``net_lift_n`` is what
    lifts the master, its weight taken off, where rubber gets under it; ``sealed_lift_n`` where its
    foot is sealed to the riser. Below zero it stays down. ``hold_down_n`` holds it at the worst.
    ``hollow_share`` is the share of its volume that must be solid, or it floats. ``leak_ml_min`` is
    what runs out of a seam that is left open by a hair.
    """

    seam_n: float
    base_n: float
    band_z_mm: tuple[float, ...]
    net_lift_n: float
    sealed_lift_n: float
    hold_down_n: float
    hollow_share: float
    leak_ml_min: float
    lines: tuple[str, ...] = ()


def band_heights_mm(level_mm: float, count: int) -> tuple[float, ...]:
    """Return the heights of bands that share the pull on a seam alike, the lowest first.

    Each stands at the centre of pressure of its own strip of the wall.

    References
    ----------
    .. [1] White: Fluid Mechanics, 7th ed. 2011, section 2.5 (centre of pressure).

    Examples
    --------
    >>> [round(z, 1) for z in band_heights_mm(300.0, 3)]
    [26.6, 88.9, 184.5]
    """
    depths = [level_mm * math.sqrt(k / count) for k in range(count + 1)]
    centres = [
        2.0 / 3.0 * (low**3 - high**3) / (low**2 - high**2)
        for high, low in itertools.pairwise(depths)
    ]
    return tuple(level_mm - centre for centre in reversed(centres))


def bands_needed(seam_pull_n: float) -> int:
    """Return how many bands of tape, once round each, hold a seam for twice its pull.

    A band crosses both seams, and so takes of each what it bears.

    Examples
    --------
    >>> bands_needed(42.36), bands_needed(100.0)
    (2, 5)
    """
    each_n = TAPE_BEARS_N_MM * TAPE_WIDE_MM
    return max(math.ceil(HOLD_FACTOR * seam_pull_n / each_n), FEWEST_BANDS)


def sealed_lift_n(
    density_kg_m3: float, master_ml: float, foot_mm2: float, foot_depth_mm: float
) -> float:
    """Return the lift on a master that is sealed to its riser: no rubber pushes up on its foot.

    Examples
    --------
    >>> import math
    >>> round(sealed_lift_n(1200.0, 520.94, math.pi * 20.0**2, 250.0), 2)
    2.43
    """
    under_ml = foot_mm2 * foot_depth_mm / MM3_PER_ML
    return density_kg_m3 * GRAVITY_M_S2 * (master_ml - under_ml) * M3_PER_ML


def leak_ml_min(
    gap_mm: float, wall_mm: float, level_mm: float, density_kg_m3: float, viscosity_pa_s: float
) -> float:
    """Return what runs out of one seam that is open by a gap over its whole height.

    References
    ----------
    .. [1] White: Viscous Fluid Flow, 3rd ed. 2006, section 3-3 (flow between parallel plates).

    Examples
    --------
    >>> round(leak_ml_min(0.2, 5.0, 300.0, 1200.0, 20.0), 4)
    0.2118
    """
    gap_m, wall_m, level_m = (one * M_PER_MM for one in (gap_mm, wall_mm, level_mm))
    pressed = density_kg_m3 * GRAVITY_M_S2 * level_m**2 / 2.0
    return gap_m**3 / (12.0 * viscosity_pa_s * wall_m) * pressed * ML_MIN_PER_M3_S


def holding_of(
    forces: Forces,
    level_mm: float,
    wall_mm: float,
    master_ml: float,
    foot_mm2: float,
    riser_mm: float,
    density_kg_m3: float,
    master_kg_m3: float,
    viscosity_pa_s: float,
    *,
    printed: bool,
) -> Holding:
    """Return what must be held, and the lines that say so.

    Parameters
    ----------
    forces : Forces
        Of the rubber on the case.
    level_mm, wall_mm : float
        How high the rubber stands, and how thick the case is.
    master_ml, foot_mm2, riser_mm : float
        The master's volume, what it stands on, and how high that is.
    density_kg_m3, master_kg_m3, viscosity_pa_s : float
        Of rubber, master, rubber.
    printed : bool
        Whether the seams have flanges, to be bolted or clipped.
    """
    weight_n = master_kg_m3 * GRAVITY_M_S2 * master_ml * M3_PER_ML
    net_n = forces.uplift_n - weight_n
    sealed_n = sealed_lift_n(density_kg_m3, master_ml, foot_mm2, level_mm - riser_mm) - weight_n
    count = bands_needed(forces.seam_pull_n)
    found = Holding(
        seam_n=HOLD_FACTOR * forces.seam_pull_n,
        base_n=HOLD_FACTOR * forces.base_push_n,
        band_z_mm=band_heights_mm(level_mm, count),
        net_lift_n=net_n,
        sealed_lift_n=sealed_n,
        hold_down_n=HOLD_FACTOR * max(net_n, 0.0),
        hollow_share=density_kg_m3 / master_kg_m3,
        leak_ml_min=leak_ml_min(OPEN_SEAM_MM, wall_mm, level_mm, density_kg_m3, viscosity_pa_s),
    )
    said = (*_case_lines(forces, found, printed=printed), _master_line(forces, found))
    lines = tuple(map(Sentence, said))
    return Holding(**{**vars(found), "lines": lines})


def _case_lines(forces: Forces, found: Holding, *, printed: bool) -> tuple[str, ...]:
    heights = some_lengths(found.band_z_mm, ", ")
    tape = (
        f"{len(found.band_z_mm)} bands of {a_length(TAPE_WIDE_MM, 'g')} cloth tape right round do"
        f" it, their middles {heights} above the board"
    )
    how = f"bolts or clips on the flanges do it; without them {tape}" if printed else tape
    return (
        (
            f"Floor: the rubber presses with {forces.floor_pressure_kpa:.2f} kPa."
            " Seal the foot all round with wax before the pour."
        ),
        (
            f"Base: the rubber pushes with {forces.base_push_n:.0f} N."
            f" Carry the case by its board, and hold the base with at least {found.base_n:.0f} N."
        ),
        (
            f"Seams: each is pulled with {forces.seam_pull_n:.1f} N, most near the foot."
            f" Hold each with at least {found.seam_n:.0f} N: {how}. Wax and putty seal, they hold"
            f" nothing; a seam open by {a_length(OPEN_SEAM_MM)} leaks {found.leak_ml_min:.2f} ml"
            " a minute."
        ),
    )


def _master_line(forces: Forces, found: Holding) -> str:
    lift = f"Master: the rubber lifts with up to {forces.uplift_n:.1f} N."
    if found.net_lift_n > 0.0:
        sealed = (
            f" {found.sealed_lift_n:.1f} N if its foot is sealed to the riser."
            if found.sealed_lift_n > 0.0
            else " It stays down only if no rubber gets under its foot."
        )
        return (
            f"{lift} It floats: {found.net_lift_n:.1f} N more than it weighs,{sealed} Screw or glue"
            f" it to the riser, for at least {found.hold_down_n:.0f} N."
        )
    heavy = mass_text(forces.uplift_n / GRAVITY_M_S2 * G_PER_KG)
    return (
        f"{lift} Solid, it stays down. Hollow, it floats if it weighs under {heavy}, less than"
        f" {100.0 * found.hollow_share:.0f} % of a solid one: weigh it, and screw or glue a light"
        " one to the riser."
    )
