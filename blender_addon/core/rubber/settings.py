"""The rubber, from its data sheet, and how much of it one cup takes."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class RubberSettings(Checked):
    """Typical values of a soft condensation silicone; the data sheet of yours goes before them."""

    density_kg_m3: float = number(
        1080.0, 800.0, 2000.0, "kg/m3", "Density",
        "mass of the mixed rubber by volume; see its data sheet (ISO 1183)",
    )  # fmt: skip
    viscosity_pa_s: float = number(
        20.0, 0.1, 200.0, "Pa*s", "Viscosity",
        "of the mixed rubber; 1 Pa*s is 1000 cP; see its data sheet",
    )  # fmt: skip
    pot_life_min: float = number(
        30.0, 1.0, 600.0, "min", "Pot Life",
        "time from the first stir until the rubber no longer flows; see its data sheet",
    )  # fmt: skip
    mix_min: float = number(
        8.0, 0.0, 120.0, "min", "Mixing and Degassing",
        "what goes off the pot life before the pour",
    )  # fmt: skip
    a_parts: float = number(
        10.0, 0.1, 1000.0, "", "Parts A",
        "mix ratio by weight: parts of the base",
    )  # fmt: skip
    b_parts: float = number(
        1.0, 0.1, 1000.0, "", "Parts B",
        "mix ratio by weight: parts of the hardener",
    )  # fmt: skip
    spare_percent: float = number(
        10.0, 0.0, 100.0, "%", "Spare",
        "what stays in the cup and in the funnel",
    )  # fmt: skip
    cup_ml: float = number(
        5000.0, 50.0, 50000.0, "ml", "Largest Cup",
        "what one cup or scale takes; more is mixed in batches",
    )  # fmt: skip
