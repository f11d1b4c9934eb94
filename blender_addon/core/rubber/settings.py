"""The rubber, from its data sheet, and how it is weighed, mixed and poured."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalog.sheets import RubberSheet
from ..constants.common import ATMOSPHERE_KPA
from ..errors import BadSettingError
from ..fields import number, text


@dataclass(frozen=True)
class RubberSettings(RubberSheet):
    """The data sheet first, then the bench: scale, cups, vacuum, pots."""

    mix_min: float = number(
        4.0, 0.0, 120.0, "min", "Mixing",
        "from the first stir on; goes off the pot life",
    )  # fmt: skip
    degas_min: float = number(
        4.0, 0.0, 120.0, "min", "Degassing",
        "under vacuum before the pour; goes off the pot life, 0 if you have no chamber",
    )  # fmt: skip
    spare_percent: float = number(
        10.0, 0.0, 100.0, "%", "Spare",
        "what stays in the cup and in the funnel",
    )  # fmt: skip
    cup_ml: float = number(
        5000.0, 50.0, 50000.0, "ml", "Largest Cup",
        "what one cup takes and can be stirred in; more is mixed in batches",
    )  # fmt: skip
    scale_most_g: float = number(
        5000.0, 50.0, 100000.0, "g", "Scale Takes",
        "most that the scale weighs, the cup not counted; more is mixed in batches",
    )  # fmt: skip
    scale_step_g: float = number(
        1.0, 0.01, 50.0, "g", "Scale Shows",
        "smallest step of the scale; parts are rounded to it",
    )  # fmt: skip
    chunks_g: float = number(
        0.0, 0.0, 100000.0, "g", "Old Rubber",
        "clean chunks of the same cured rubber thrown in to save fresh rubber; 0 for none",
    )  # fmt: skip
    master_kg_m3: float = number(
        1700.0, 20.0, 9000.0, "kg/m3", "Density of the Master",
        "of the clay that is poured round; for the weight to lift",
    )  # fmt: skip
    vessel_times: float = number(
        4.0, 1.5, 10.0, "", "Vessel by Mix",
        "how many times the mix the vessel for degassing holds, as it rises; 3 to 5 is common",
    )  # fmt: skip
    vacuum_kpa: float = number(
        98.2, 1.0, 101.3, "kPa", "Vacuum",
        "under the air outside, as the gauge shows; 98.2 kPa is 29 inHg",
    )  # fmt: skip
    air_kpa: float = number(
        ATMOSPHERE_KPA, 50.0, 110.0, "kPa", "Air Outside",
        "pressure of the air where you work; less in the mountains and in bad weather",
    )  # fmt: skip
    pressure_kpa: float = number(
        275.0, 0.0, 2000.0, "kPa", "Pot Pressure",
        "over the air outside; 275 kPa is 40 psi; never above what the pot is rated for",
    )  # fmt: skip
    materials_file: str = text(
        "", "Own Materials",
        "TOML list of rubbers from your data sheets; empty takes the common classes",
    )  # fmt: skip
    pots_file: str = text(
        "", "Own Pots",
        "TOML list of your pressure pots and vacuum chambers, with their rated limits",
    )  # fmt: skip

    def __post_init__(self) -> None:
        super().__post_init__()
        ready_min = self.mix_min + self.degas_min
        if self.pot_life_min <= ready_min:
            message = (
                f"{self.pot_life_min:g} min is over before the pour: mixing and degassing take"
                f" {ready_min:g} min. Check all three."
            )
            raise BadSettingError("pot_life_min", message)
        if self.vacuum_kpa >= self.air_kpa:
            message = (
                f"{self.vacuum_kpa:g} kPa is more than the {self.air_kpa:g} kPa of the air outside;"
                " no pump takes out more than there is."
            )
            raise BadSettingError("vacuum_kpa", message)
        if self.scale_step_g > self.scale_most_g / 50.0:
            message = (
                f"{self.scale_step_g:g} g is too coarse a step for a scale that takes"
                f" {self.scale_most_g:g} g."
            )
            raise BadSettingError("scale_step_g", message)
