"""What the rubber stage hands on: what to weigh out, how long it pours, and what it pushes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..notices import Notice


@dataclass(frozen=True)
class Batch:
    """One cup: the two parts by weight and the room they take."""

    a_g: float
    b_g: float
    cup_ml: float


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
class RubberResult:
    """``volume_ml`` fills the case round the master up to ``level_z_mm``, less the riser."""

    volume_ml: float
    level_z_mm: float
    spare_percent: float
    mix_ml: float
    mass_g: float
    batches: tuple[Batch, ...]
    pour_s: float
    pot_life_s: float
    forces: Forces
    closings: tuple[Closing, ...] = ()
    warnings: tuple[Notice, ...] = ()
