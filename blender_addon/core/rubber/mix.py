"""What is mixed for the block: batches and the coat to brush on, and what is saved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants.common import G_PER_KG
from ..constants.rubber import COAT_MOST_SHARE
from ..notices import Notice
from ..units import KG_M3_TO_G_ML, mass_text
from .amount import saved_of
from .weigh import batches_within, coarse_scale, mass_of, true_batch_of

if TYPE_CHECKING:
    from .amount import Saved
    from .settings import RubberSettings
    from .weigh import Batch


@dataclass(frozen=True)
class Mix:
    """``poured_ml`` goes into the case, ``mixed_ml`` is that with the spare."""

    saved: Saved
    poured_ml: float
    mixed_ml: float
    batches: tuple[Batch, ...]
    coat: Batch | None
    cost: float | None


def mix_of(volume_ml: float, coat_g: float, settings: RubberSettings) -> Mix:
    """Return what to mix to fill a volume.

    Parameters
    ----------
    volume_ml : float
        Round the master.
    coat_g : float
        Brushed on before.
    settings : RubberSettings
        Data sheet, spare, chunks, cup and scale.

    Examples
    --------
    >>> from blender_addon.core.rubber.settings import RubberSettings
    >>> mix = mix_of(2000.0, 0.0, RubberSettings(density_kg_m3=1200.0, spare_percent=0.0))
    >>> [(one.a_g, one.b_g) for one in mix.batches]
    [(2182.0, 218.0)]
    """
    density_g_ml, step_g = settings.density_kg_m3 * KG_M3_TO_G_ML, settings.scale_step_g
    saved, spare = saved_of(volume_ml, coat_g, settings), 1.0 + settings.spare_percent / 100.0
    poured_ml = volume_ml - saved.coat_ml - saved.chunks_ml
    most_g = min(settings.scale_most_g, settings.cup_ml * density_g_ml)
    batches = batches_within(poured_ml * spare * density_g_ml, settings, step_g, most_g)
    coat = true_batch_of(coat_g * spare, settings, step_g) if saved.coat_ml else None
    mass_g = mass_of(batches) + (coat.g if coat else 0.0)
    cost = settings.price_per_kg * mass_g / G_PER_KG if settings.price_per_kg else None
    return Mix(saved, poured_ml, poured_ml * spare, batches, coat, cost)


def mix_notices(mix: Mix, volume_ml: float, settings: RubberSettings) -> tuple[Notice, ...]:
    """Return warnings of the scale, of a coat that is none, and of too many chunks."""
    found = [*coarse_scale(mix.batches, settings, settings.scale_step_g)]
    if mix.saved.coat_ml > COAT_MOST_SHARE * volume_ml:
        text = (
            f"The brushed coat takes up {100.0 * mix.saved.coat_ml / volume_ml:.0f} % of the"
            " rubber: that is no coat any more. Make it thinner, or brush less."
        )
        found.append(Notice("thick_coat", text))
    if settings.chunks_g > mix.saved.chunks_most_g:
        text = (
            f"{mass_text(settings.chunks_g)} of old rubber are more than the"
            f" {mass_text(mix.saved.chunks_most_g)} that are counted on: fresh rubber must run"
            " round each chunk. Keep the rest for the next block."
        )
        found.append(Notice("chunks", text))
    return tuple(found)
