"""The rubber stage: how much, in which cups, in what time, and what it pushes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..case.case import PRINTED
from ..geometry.solid import enclosed_volume_ml
from ..units import KG_M3_TO_G_ML
from .amount import outline_area_mm2, rubber_volume_ml
from .budget import budget_of, pot_life_notices
from .closings import closings_of
from .forces import forces_at
from .gas import growth_under_vacuum
from .holding import holding_of
from .mix import mix_notices, mix_of
from .pots import fits_of, pot_notices
from .pour import pour_time_s
from .result import Block, RubberResult, RubberRoom
from .weigh import mass_of

if TYPE_CHECKING:
    from ..bubbles.result import BubblesResult
    from ..case.result import CaseResult
    from ..catalog.pots import Pot
    from ..funnel.result import FunnelResult
    from ..watch import Watch
    from .budget import Budget
    from .holding import Holding
    from .result import Forces
    from .settings import RubberSettings

S_PER_MIN = 60.0


def room_stage(bubbles: BubblesResult, case: CaseResult, watch: Watch) -> RubberRoom:
    """Measure what rubber fills, whatever rubber it is.

    Parameters
    ----------
    bubbles : BubblesResult
        Its pockets close while the rubber rises.
    case : CaseResult
        The tube, the master in it, and how high the rubber stands.
    watch : Watch
        Told of progress.

    Raises
    ------
    UnusableMeshError
        If the master leaves no room for rubber.
    """
    volume_ml = rubber_volume_ml(case)
    watch.at(0.5)
    closings = closings_of(bubbles.pockets, case)
    return RubberRoom(volume_ml, enclosed_volume_ml(case.master), closings)


def rubber_stage(
    room: RubberRoom,
    coat_g: float,
    case: CaseResult,
    funnel: FunnelResult,
    listed: tuple[Pot, ...],
    settings: RubberSettings,
    watch: Watch,
) -> RubberResult:
    """Return the rubber of the mold.

    Parameters
    ----------
    room : RubberRoom
        As `room_stage` measured it.
    coat_g : float
        What is brushed on before the pour, and so need not be poured.
    case : CaseResult
        The tube, and how high the rubber stands.
    funnel : FunnelResult
        Its throat sets the time of the pour.
    listed : tuple of Pot
        The user's pressure pots and vacuum chambers.
    settings : RubberSettings
        The rubber's data sheet, scale and cups.
    watch : Watch
        Told of progress.
    """
    watch.at(0.5)
    mix = mix_of(room.volume_ml, coat_g, settings)
    pour_s = pour_time_s(mix.poured_ml, funnel, settings.viscosity_pa_s, settings.density_kg_m3)
    budget = _budget(pour_s / len(mix.batches), settings)
    block = _block(case, room, settings)
    block_mm = block.across_mm, block.high_mm
    vessel_ml = settings.vessel_times * mix.batches[0].cup_ml
    fits = fits_of(listed, block_mm, vessel_ml, settings)
    forces = forces_at(case.bore, case.level_z_mm, room.master_ml, settings.density_kg_m3)
    return RubberResult(
        volume_ml=room.volume_ml,
        level_z_mm=case.level_z_mm,
        spare_percent=settings.spare_percent,
        mix_ml=mix.mixed_ml,
        mass_g=mass_of(mix.batches),
        batches=mix.batches,
        pour_s=pour_s,
        pot_life_s=budget.pot_life_s,
        forces=forces,
        holding=_holding(forces, case, room, settings),
        budget=budget,
        block=block,
        vessel_ml=vessel_ml,
        shrink_percent=settings.shrink_percent,
        growth=growth_under_vacuum(settings.vacuum_kpa, settings.air_kpa),
        coat=mix.coat,
        chunks_ml=mix.saved.chunks_ml,
        chunks_most_g=mix.saved.chunks_most_g,
        cost=mix.cost,
        pots=fits,
        closings=room.closings,
        warnings=(
            *pot_life_notices(budget, len(mix.batches)),
            *mix_notices(mix, room.volume_ml, settings),
            *pot_notices(fits, block_mm, settings),
        ),
    )


def _budget(pour_s: float, settings: RubberSettings) -> Budget:
    mix_s, degas_s = settings.mix_min * S_PER_MIN, settings.degas_min * S_PER_MIN
    return budget_of(mix_s, degas_s, pour_s, settings.pot_life_min * S_PER_MIN)


def _block(case: CaseResult, room: RubberRoom, settings: RubberSettings) -> Block:
    rubber_g = room.volume_ml * settings.density_kg_m3 * KG_M3_TO_G_ML
    master_g = room.master_ml * settings.master_kg_m3 * KG_M3_TO_G_ML
    return Block(case.inner_diameter_mm, case.level_z_mm, rubber_g, rubber_g + master_g)


def _holding(
    forces: Forces, case: CaseResult, room: RubberRoom, settings: RubberSettings
) -> Holding:
    return holding_of(
        forces,
        case.level_z_mm,
        case.wall_mm,
        room.master_ml,
        outline_area_mm2(case.riser_outline),
        case.riser_mm,
        settings.density_kg_m3,
        settings.master_kg_m3,
        settings.viscosity_pa_s,
        printed=case.kind in PRINTED,
    )
