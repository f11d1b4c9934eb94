"""How long the rubber takes through the throat."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from ..constants.common import GRAVITY_M_S2
from ..constants.rubber import HAND_POUR_ML_S

if TYPE_CHECKING:
    from ..funnel.result import FunnelResult

M_PER_MM = 1e-3
ML_PER_M3 = 1e6


def throat_resistance_pa_s_m3(throat_mm: float, length_mm: float, viscosity_pa_s: float) -> float:
    """Return pressure by flow of a short round tube in creeping flow, both ends counted.

    Parameters
    ----------
    throat_mm, length_mm : float
        Inner diameter and length.
    viscosity_pa_s : float
        Taken as one number: rubber that thins when sheared flows faster.

    References
    ----------
    .. [1] Sampson, Phil. Trans. R. Soc. A 182 (1891) 449: a thin round hole.
    .. [2] Dagan, Weinbaum, Pfeffer, J. Fluid Mech. 115 (1982) 505: tube and hole add up.

    Examples
    --------
    >>> round(1176.8 / throat_resistance_pa_s_m3(20.0, 20.0, 20.0) * 1e6, 3)
    7.271
    """
    radius_m, length_m = throat_mm / 2.0 * M_PER_MM, length_mm * M_PER_MM
    tube = 8.0 * viscosity_pa_s * length_m / (math.pi * radius_m**4)
    ends = 3.0 * viscosity_pa_s / radius_m**3
    return tube + ends


def flow_ml_s(
    throat_mm: float, length_mm: float, head_mm: float, viscosity_pa_s: float, density_kg_m3: float
) -> float:
    """Return the flow out of a full throat into free air, under a head of its own liquid.

    Weight of the liquid in the throat and above it drives; what resists is the throat with its
    ends and, for thin liquids, the speed that the jet leaves with (twice its mean dynamic pressure,
    as the profile is a parabola).

    Parameters
    ----------
    throat_mm, length_mm, head_mm : float
        Inner diameter and length of the throat, liquid above its top.
    viscosity_pa_s, density_kg_m3 : float
        Of the liquid.

    References
    ----------
    .. [1] White: Viscous Fluid Flow, 3rd ed. 2006, section 3-3 (pipe flow, kinetic energy).

    Examples
    --------
    >>> round(flow_ml_s(20.0, 20.0, 80.0, 20.0, 1200.0), 2)
    7.27
    """
    driving_pa = density_kg_m3 * GRAVITY_M_S2 * (length_mm + head_mm) * M_PER_MM
    resistance = throat_resistance_pa_s_m3(throat_mm, length_mm, viscosity_pa_s)
    area_m2 = math.pi * (throat_mm * M_PER_MM) ** 2 / 4.0
    inertia = density_kg_m3 / area_m2**2  # Pa by the square of the flow
    flow_m3_s = (
        2.0 * driving_pa / (resistance + math.sqrt(resistance**2 + 4 * inertia * driving_pa))
    )
    return flow_m3_s * ML_PER_M3


def pour_time_s(
    volume_ml: float, funnel: FunnelResult, viscosity_pa_s: float, density_kg_m3: float
) -> float:
    """Return how long a volume takes through the funnel while its bowl is kept half full.

    A wide throat passes more than a hand pours in a thin stream: then the hand's pace counts. The
    throat ends over the rubber, so nothing drowns it. Viscosity is that of fresh rubber. Real
    rubber thins when sheared and thickens with time: trust the number to half of itself.
    """
    head_mm = (funnel.top_z_mm - funnel.cone_z_mm) / 2.0
    flow = flow_ml_s(
        funnel.throat_mm, funnel.throat_length_mm, head_mm, viscosity_pa_s, density_kg_m3
    )
    return volume_ml / min(flow, HAND_POUR_ML_S)
