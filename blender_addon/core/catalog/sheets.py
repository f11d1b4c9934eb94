"""What the data sheet of a rubber or a resin tells: what settings and materials share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..constants.catalog import MIX_DENSITY_SHARE
from ..errors import BadSettingError
from ..fields import Checked, choice, number, text

if TYPE_CHECKING:
    from typing import TypeAlias

BY_MASS, BY_VOLUME, BY_LENGTH = "mass", "volume", "length"

SILICONE, POLYURETHANE = "silicone", "polyurethane"
FAST_PU, SLOW_PU, EPOXY, POLYESTER = "fast polyurethane", "slow polyurethane", "epoxy", "polyester"


def _part_density(part: str) -> float:
    field: float = number(
        0.0, 0.0, 3000.0, "kg/m3", f"Density of {part}",
        f"mass of part {part} by volume; needed when the ratio is by volume, 0 if it is not known",
    )  # fmt: skip
    return field


def _mix_by() -> str:
    field: str = choice(
        BY_MASS, (BY_MASS, BY_VOLUME), "Ratio By",
        "whether the data sheet gives the parts by weight or by volume",
    )  # fmt: skip
    return field


def _price() -> float:
    field: float = number(
        0.0, 0.0, 1000.0, "", "Price per Kilogram",
        "in your money; 0 tells no cost",
    )  # fmt: skip
    return field


class _Mixed(Checked):
    """Of two parts, whose ratio must make sense."""

    def __post_init__(self) -> None:
        super().__post_init__()
        refuse_ratio(self)  # type: ignore[arg-type]  # its kinds have the fields


@dataclass(frozen=True)
class RubberSheet(_Mixed):
    """Typical values of a soft condensation silicone; the data sheet of yours goes before them."""

    material: str = text(
        "", "Rubber",
        "name of the rubber, of the common classes or your own list; its values are filled in",
    )  # fmt: skip
    kind: str = choice(
        SILICONE, (SILICONE, POLYURETHANE), "Class",
        "what it is made of: sets which cautions the job sheet tells",
    )  # fmt: skip
    density_kg_m3: float = number(
        1080.0, 800.0, 2000.0, "kg/m3", "Density",
        "mass of the mixed rubber by volume; see its data sheet (ISO 1183)",
    )  # fmt: skip
    viscosity_pa_s: float = number(
        20.0, 0.1, 200.0, "Pa*s", "Viscosity",
        "of the mixed rubber; 1 Pa·s is 1000 cP; see its data sheet",
    )  # fmt: skip
    pot_life_min: float = number(
        30.0, 1.0, 600.0, "min", "Pot Life",
        "time from the first stir until the rubber no longer flows; see its data sheet",
    )  # fmt: skip
    demold_h: float = number(
        16.0, 0.1, 168.0, "h", "Demold After",
        "time until the block may be opened; see its data sheet",
    )  # fmt: skip
    mix_by: str = _mix_by()
    a_parts: float = number(
        10.0, 0.1, 1000.0, "", "Parts A",
        "mix ratio: parts of the base",
    )  # fmt: skip
    b_parts: float = number(
        1.0, 0.1, 1000.0, "", "Parts B",
        "mix ratio: parts of the hardener",
    )  # fmt: skip
    a_density_kg_m3: float = _part_density("A")
    b_density_kg_m3: float = _part_density("B")
    shrink_percent: float = number(
        0.3, 0.0, 5.0, "%", "Linear Shrink",
        "how much smaller than the clay the cured mold is, in length; see its data sheet",
    )  # fmt: skip
    price_per_kg: float = _price()


@dataclass(frozen=True)
class ResinSheet(_Mixed):
    """Typical values of a fast polyurethane; the data sheet of yours goes before them."""

    material: str = text(
        "", "Resin",
        "name of the resin, of the common classes or your own list; its values are filled in",
    )  # fmt: skip
    kind: str = choice(
        FAST_PU, (FAST_PU, SLOW_PU, EPOXY, POLYESTER), "Class",
        "what it is made of: sets how deep a fill may be and how hot it can get",
    )  # fmt: skip
    density_kg_m3: float = number(
        1050.0, 500.0, 3000.0, "kg/m3", "Density",
        "mass of the mixed resin by volume; see its data sheet (ISO 1183)",
    )  # fmt: skip
    viscosity_pa_s: float = number(
        0.1, 0.01, 100.0, "Pa*s", "Viscosity",
        "of the mixed resin; 1 Pa·s is 1000 cP; see its data sheet",
    )  # fmt: skip
    pot_life_min: float = number(
        3.0, 0.5, 600.0, "min", "Pot Life",
        "time from the first stir until the resin no longer flows; see its data sheet",
    )  # fmt: skip
    demold_h: float = number(
        0.5, 0.05, 168.0, "h", "Demold After",
        "time until the copy may be taken out; see its data sheet",
    )  # fmt: skip
    mix_by: str = _mix_by()
    a_parts: float = number(
        1.0, 0.1, 1000.0, "", "Parts A",
        "mix ratio: parts of the first component",
    )  # fmt: skip
    b_parts: float = number(
        1.0, 0.1, 1000.0, "", "Parts B",
        "mix ratio: parts of the second component",
    )  # fmt: skip
    a_density_kg_m3: float = _part_density("A")
    b_density_kg_m3: float = _part_density("B")
    shrink_percent: float = number(
        0.4, 0.0, 10.0, "%", "Shrink",
        "how much smaller than the mold the cured resin is; see its data sheet",
    )  # fmt: skip
    shrink_by: str = choice(
        BY_LENGTH, (BY_LENGTH, BY_VOLUME), "Shrink By",
        "whether the data sheet gives the shrink in length or in volume",
    )  # fmt: skip
    rise_k: float = number(
        123.0, 0.0, 400.0, "K", "Heat of Curing",
        "how much warmer it gets if no heat leaves it: the most that can come",
    )  # fmt: skip
    deepest_fill_mm: float = number(
        0.0, 0.0, 500.0, "mm", "Deepest Fill",
        "largest depth of one pour by its data sheet; 0 goes by the thickness common for its class",
    )  # fmt: skip
    price_per_kg: float = _price()


if TYPE_CHECKING:
    Sheet: TypeAlias = RubberSheet | ResinSheet


def refuse_ratio(sheet: Sheet) -> None:
    """Raise when a ratio by volume lacks the densities of its parts, or they contradict the mix's.

    Raises
    ------
    BadSettingError
        At the field that is missing, or at the density of the mix.

    Examples
    --------
    >>> RubberSheet(mix_by="volume", a_density_kg_m3=1100.0)
    Traceback (most recent call last):
    blender_addon.core.errors.BadSettingError: Setting b_density_kg_m3: missing; the ratio is by \
volume, and grams need the density of both parts. Take it from the data sheet.
    """
    if sheet.mix_by == BY_MASS:
        return
    for name in ("a_density_kg_m3", "b_density_kg_m3"):
        if getattr(sheet, name) <= 0.0:
            message = (
                "missing; the ratio is by volume, and grams need the density of both parts."
                " Take it from the data sheet."
            )
            raise BadSettingError(name, message)
    parts = sheet.a_parts + sheet.b_parts
    mixed = (sheet.a_parts * sheet.a_density_kg_m3 + sheet.b_parts * sheet.b_density_kg_m3) / parts
    if abs(mixed - sheet.density_kg_m3) > MIX_DENSITY_SHARE * mixed:
        message = (
            f"{sheet.density_kg_m3:g} contradicts its parts: they mix to {mixed:.0f} kg/m3."
            " Check the three densities against the data sheet."
        )
        raise BadSettingError("density_kg_m3", message)


def share_of_a(sheet: Sheet) -> float:
    """Return the share of part A in the mass of the mix.

    Examples
    --------
    >>> round(share_of_a(RubberSheet(a_parts=100.0, b_parts=3.0)), 4)
    0.9709
    >>> by_volume = {"mix_by": "volume", "a_density_kg_m3": 1200.0, "b_density_kg_m3": 900.0}
    >>> round(share_of_a(ResinSheet(density_kg_m3=1050.0, **by_volume)), 4)
    0.5714
    """
    a, b = sheet.a_parts, sheet.b_parts
    if sheet.mix_by == BY_VOLUME:
        a, b = a * sheet.a_density_kg_m3, b * sheet.b_density_kg_m3
    return a / (a + b)
