"""The rubber stage: how much, in which cups, in what time, and what it pushes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..case.case import PRINTED
from ..constants import COAT_MOST_SHARE
from ..geometry.solid import enclosed_volume_ml
from ..notices import Notice
from ..units import KG_M3_TO_G_ML, mass_text
from .amount import outline_area_mm2, rubber_volume_ml, saved_of
from .budget import budget_of, pot_life_notices
from .closings import closings_of
from .forces import forces_at
from .gas import growth_under_vacuum
from .holding import holding_of
from .pots import fits_of, pot_notices
from .pour import pour_time_s
from .result import Block, RubberResult, RubberRoom
from .weigh import batch_of, batches_within, coarse_scale, mass_of

if TYPE_CHECKING:
    from ..bubbles.result import BubblesResult
    from ..case.result import CaseResult
    from ..catalog.pots import Pot
    from ..funnel.result import FunnelResult
    from ..watch import Watch
    from .holding import Holding
    from .result import Forces
    from .settings import RubberSettings
    from .weigh import Batch

S_PER_MIN = 60.0
G_PER_KG = 1000.0


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
    volume_ml, density_g_ml = room.volume_ml, settings.density_kg_m3 * KG_M3_TO_G_ML
    saved, spare = saved_of(volume_ml, coat_g, settings), 1.0 + settings.spare_percent / 100.0
    poured_ml = volume_ml - saved.coat_ml - saved.chunks_ml
    step_g = settings.scale_step_g
    most_g = min(settings.scale_most_g, settings.cup_ml * density_g_ml)
    batches = batches_within(poured_ml * spare * density_g_ml, settings, step_g, most_g)
    coat = batch_of(coat_g * spare, settings, step_g) if saved.coat_ml else None
    pour_s = pour_time_s(poured_ml, funnel, settings.viscosity_pa_s, settings.density_kg_m3)
    budget = budget_of(
        settings.mix_min * S_PER_MIN,
        settings.degas_min * S_PER_MIN,
        pour_s / len(batches),
        settings.pot_life_min * S_PER_MIN,
    )
    block = _block(case, room, settings)
    vessel_ml = settings.vessel_times * batches[0].cup_ml
    fits = fits_of(listed, (block.across_mm, block.high_mm), vessel_ml, settings)
    forces = forces_at(case.bore, case.level_z_mm, room.master_ml, settings.density_kg_m3)
    return RubberResult(
        volume_ml=volume_ml,
        level_z_mm=case.level_z_mm,
        spare_percent=settings.spare_percent,
        mix_ml=poured_ml * spare,
        mass_g=mass_of(batches),
        batches=batches,
        pour_s=pour_s,
        pot_life_s=budget.pot_life_s,
        forces=forces,
        holding=_holding(forces, case, room, settings),
        budget=budget,
        block=block,
        vessel_ml=vessel_ml,
        shrink_percent=settings.shrink_percent,
        growth=growth_under_vacuum(settings.vacuum_kpa, settings.air_kpa),
        coat=coat,
        chunks_ml=saved.chunks_ml,
        chunks_most_g=saved.chunks_most_g,
        cost=_cost(batches, coat, settings),
        pots=fits,
        closings=room.closings,
        warnings=(
            *pot_life_notices(budget, len(batches)),
            *coarse_scale(batches, settings, step_g),
            *_thick_coat(saved.coat_ml, volume_ml),
            *_too_many_chunks(settings.chunks_g, saved.chunks_most_g),
            *pot_notices(fits, (block.across_mm, block.high_mm), settings),
        ),
    )


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


def _cost(batches: tuple[Batch, ...], coat: Batch | None, settings: RubberSettings) -> float | None:
    mass_g = mass_of(batches) + (coat.g if coat else 0.0)
    return settings.price_per_kg * mass_g / G_PER_KG if settings.price_per_kg else None


def _thick_coat(coat_ml: float, volume_ml: float) -> tuple[Notice, ...]:
    if coat_ml <= COAT_MOST_SHARE * volume_ml:
        return ()
    text = (
        f"The brushed coat takes up {100.0 * coat_ml / volume_ml:.0f} % of the rubber: that is no"
        " coat any more. Make it thinner, or brush less."
    )
    return (Notice("thick_coat", text),)


def _too_many_chunks(chunks_g: float, most_g: float) -> tuple[Notice, ...]:
    if chunks_g <= most_g:
        return ()
    text = (
        f"{mass_text(chunks_g)} of old rubber are more than the {mass_text(most_g)} that are"
        " counted on: fresh rubber must run round each chunk. Keep the rest for the next block."
    )
    return (Notice("chunks", text),)
