"""What the liquid rubber does to the case, at the highest level it stands at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..constants.common import GRAVITY_M_S2
from .result import Forces

if TYPE_CHECKING:
    from ..case.bore import Bore

M_PER_MM = 1e-3
M3_PER_ML = 1e-6
KPA_PER_PA = 1e-3


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
