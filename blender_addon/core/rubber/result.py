"""What the rubber stage hands on: what to weigh out, how long it pours, and what it pushes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..notices import Notice
    from .budget import Budget
    from .holding import Holding
    from .pots import PotFit
    from .weigh import Batch


@dataclass(frozen=True)
class Forces:
    """What the liquid rubber does to the case: one line each for what must seal and hold."""

    floor_pressure_kpa: float
    base_push_n: float
    seam_pull_n: float
    uplift_n: float


@dataclass(frozen=True)
class Closing:
    """When a pocket closes: the rubber stands at ``level_z_mm``, ``rubber_ml`` of it is poured."""

    pocket: int
    level_z_mm: float
    rubber_ml: float


@dataclass(frozen=True)
class RubberRoom:
    """What does not hang on the rubber: the room it fills, the master in it, what it closes."""

    volume_ml: float
    master_ml: float
    closings: tuple[Closing, ...]


@dataclass(frozen=True)
class Block:
    """The cured block: the circle round it and its height, and what the bench must carry.

    ``rubber_g`` is the block alone, ``lift_g`` the block with the master in it, the case not
    counted.
    """

    across_mm: float
    high_mm: float
    rubber_g: float
    lift_g: float


@dataclass(frozen=True)
class RubberResult:
    """``volume_ml`` fills the case round the master up to ``level_z_mm``, less the riser.

    Of it, the ``coat`` is brushed on beforehand and ``chunks_ml`` may be old rubber; the rest is
    poured. ``mix_ml`` is that with the spare, ``mass_g`` what the ``batches`` weigh together.
    ``pour_s`` is what fresh rubber takes through the funnel, ``budget`` that of one batch, with
    all that goes off its pot life. ``vessel_ml`` is for degassing one batch; air grows in it
    ``growth`` times. ``cost`` is of batches and coat, None if no price is given. ``holding`` says
    how to stand up to the ``forces``.
    """

    volume_ml: float
    level_z_mm: float
    spare_percent: float
    mix_ml: float
    mass_g: float
    batches: tuple[Batch, ...]
    pour_s: float
    pot_life_s: float
    forces: Forces
    budget: Budget
    block: Block
    vessel_ml: float
    growth: float
    shrink_percent: float
    coat: Batch | None = None
    chunks_ml: float = 0.0
    chunks_most_g: float = 0.0
    cost: float | None = None
    holding: Holding | None = None
    pots: tuple[PotFit, ...] = ()
    closings: tuple[Closing, ...] = ()
    warnings: tuple[Notice, ...] = ()
