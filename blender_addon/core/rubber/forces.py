"""What the liquid rubber does to the case, at the highest level it stands at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants import GRAVITY_M_S2, HOLD_FACTOR
from ..units import mass_text
from .result import Forces

if TYPE_CHECKING:
    from ..case.bore import Bore

M_PER_MM = 1e-3
M3_PER_ML = 1e-6
KPA_PER_PA = 1e-3
G_PER_KG = 1e3


def forces_at(bore: Bore, level_z_mm: float, master_ml: float, density_kg_m3: float) -> Forces:
    """Return pressure and pushes of a liquid that stands ``level_z_mm`` high in a case.

    Parameters
    ----------
    bore : Bore
        Inside of the case; its seams lie in the plane y = 0.
    level_z_mm : float
        Depth of the liquid at the floor.
    master_ml : float
        Volume of the master.
    density_kg_m3 : float
        Of the liquid.

    Returns
    -------
    Forces
        ``floor_pressure_kpa`` is over that of the air. ``base_push_n`` takes the whole bore.
        ``seam_pull_n`` is the pull across *each* of two opposite seams over its whole height; twice
        that parts the halves: a half is pushed as the plane between its seams would be.
        ``uplift_n`` is the push of the liquid on a master that it reaches under, its weight not
        taken off: the most that can come.

    References
    ----------
    .. [1] White: Fluid Mechanics, 7th ed. 2011, sections 2.3 to 2.8 (hydrostatic pressure,
       forces on plane and curved surfaces, buoyancy).

    Examples
    --------
    >>> from blender_addon.core.case.bore import round_bore
    >>> forces = forces_at(round_bore(160.0), 300.0, 1000.0, 1200.0)
    >>> round(forces.base_push_n, 2), round(forces.seam_pull_n, 2), round(forces.uplift_n, 2)
    (70.98, 42.36, 11.77)
    """
    weight_n_m3 = density_kg_m3 * GRAVITY_M_S2
    left_mm, right_mm = bore.seam_x_mm
    half_m, level_m = (right_mm - left_mm) / 2.0 * M_PER_MM, level_z_mm * M_PER_MM
    floor_pa = weight_n_m3 * level_m
    return Forces(
        floor_pressure_kpa=floor_pa * KPA_PER_PA,
        base_push_n=floor_pa * bore.area_mm2 * M_PER_MM**2,
        seam_pull_n=weight_n_m3 * half_m * level_m**2 / 2.0,
        uplift_n=weight_n_m3 * master_ml * M3_PER_ML,
    )


def hold_lines(forces: Forces) -> tuple[str, ...]:
    """Return what must seal and hold, a plain line each.

    Examples
    --------
    >>> for line in hold_lines(Forces(3.53, 70.98, 42.36, 11.77)):
    ...     print(line)
    Floor: the rubber presses with 3.53 kPa there. Seal the foot all round with wax before the pour.
    Base: the rubber pushes with 71 N. Carry the case by its board; it must hold at least 142 N.
    Seams: each is pulled with 42.4 N, most near the foot. Seal and hold each for at least 85 N.
    Master: the rubber lifts with up to 11.8 N. Fix it to the riser if it weighs under 2.40 kg.
    """
    heavy_g = HOLD_FACTOR * forces.uplift_n / GRAVITY_M_S2 * G_PER_KG
    base_n, seam_n = HOLD_FACTOR * forces.base_push_n, HOLD_FACTOR * forces.seam_pull_n
    return (
        (
            f"Floor: the rubber presses with {forces.floor_pressure_kpa:.2f} kPa there."
            " Seal the foot all round with wax before the pour."
        ),
        (
            f"Base: the rubber pushes with {forces.base_push_n:.0f} N."
            f" Carry the case by its board; it must hold at least {base_n:.0f} N."
        ),
        (
            f"Seams: each is pulled with {forces.seam_pull_n:.1f} N, most near the foot."
            f" Seal and hold each for at least {seam_n:.0f} N."
        ),
        (
            f"Master: the rubber lifts with up to {forces.uplift_n:.1f} N."
            f" Fix it to the riser if it weighs under {mass_text(heavy_g)}."
        ),
    )
