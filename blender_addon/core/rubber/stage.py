"""The rubber stage: how much, in which cups, in what time, and what it pushes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..geometry.solid import enclosed_volume_ml
from ..units import KG_M3_TO_G_ML
from .amount import batches_of, rubber_volume_ml
from .closings import closings_of
from .forces import forces_at
from .pour import pot_life_notices, pour_time_s
from .result import RubberResult

if TYPE_CHECKING:
    from ..bubbles.result import BubblesResult
    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from ..watch import Watch
    from .settings import RubberSettings

S_PER_MIN = 60.0


def rubber_stage(
    bubbles: BubblesResult,
    case: CaseResult,
    funnel: FunnelResult,
    settings: RubberSettings,
    watch: Watch,
) -> RubberResult:
    """Return the rubber of the mold.

    Parameters
    ----------
    bubbles : BubblesResult
        Its pockets close while the rubber rises.
    case : CaseResult
        The tube, the master in it, and how high the rubber stands.
    funnel : FunnelResult
        Its throat sets the time of the pour.
    settings : RubberSettings
        The rubber's data sheet, and the largest cup.
    watch : Watch
        Told of progress.

    Raises
    ------
    UnusableMeshError
        If the master leaves no room for rubber.
    """
    volume_ml = rubber_volume_ml(case)
    watch.at(0.5)
    mix_ml = volume_ml * (1.0 + settings.spare_percent / 100.0)
    batches = batches_of(mix_ml, settings)
    pour_s = pour_time_s(volume_ml, funnel, settings.viscosity_pa_s, settings.density_kg_m3)
    mix_s, pot_life_s = settings.mix_min * S_PER_MIN, settings.pot_life_min * S_PER_MIN
    return RubberResult(
        volume_ml=volume_ml,
        level_z_mm=case.level_z_mm,
        spare_percent=settings.spare_percent,
        mix_ml=mix_ml,
        mass_g=mix_ml * settings.density_kg_m3 * KG_M3_TO_G_ML,
        batches=batches,
        pour_s=pour_s,
        pot_life_s=pot_life_s,
        forces=forces_at(
            case.bore,
            case.level_z_mm,
            enclosed_volume_ml(case.master),
            settings.density_kg_m3,
        ),
        closings=closings_of(bubbles.pockets, case),
        warnings=pot_life_notices(mix_s, pour_s / len(batches), pot_life_s, len(batches)),
    )
