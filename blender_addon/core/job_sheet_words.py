"""How the job sheet says numbers, and its warnings beside the work that they concern."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .rubber.pots import TOO_LARGE
from .sentences import in_unit
from .sheet.blocks import Heed, Words
from .units import (
    area_text,
    length_text,
    mass_text,
    pressure_text,
    stretch_text,
    time_text,
    volume_text,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

UNKNOWN = "unknown"


@dataclass(frozen=True)
class Said:
    """Says quantities in the maker's units; what is None is not known."""

    inches: bool = False

    def length(self, length_mm: float | None) -> str:
        """Return a length.

        Examples
        --------
        >>> Said(inches=True).length(25.4), Said().length(None)
        ('1.00 in', 'unknown')
        """
        return UNKNOWN if length_mm is None else length_text(length_mm, inches=self.inches)

    def text(self, text: str) -> str:
        """Return a text that may hold lengths."""
        return in_unit(text, inches=self.inches)

    def area(self, area_cm2: float | None, digits: str = ".1f") -> str:
        """Return an area."""
        return UNKNOWN if area_cm2 is None else area_text(area_cm2, digits, inches=self.inches)

    def size(self, size_mm: Sequence[float]) -> str:
        """Return two or three lengths, the unit once."""
        *others, last = [self.length(one) for one in size_mm]
        return " x ".join([*(one.split()[0] for one in others), last])

    def volume(self, volume_ml: float | None) -> str:
        """Return a volume."""
        return UNKNOWN if volume_ml is None else volume_text(volume_ml)

    def mass(self, mass_g: float | None) -> str:
        """Return a mass."""
        return UNKNOWN if mass_g is None else mass_text(mass_g)

    def time(self, seconds: float | None) -> str:
        """Return a duration."""
        return UNKNOWN if seconds is None else time_text(seconds)

    def stretch(self, share: float | None) -> str:
        """Return how far rubber stretches."""
        return UNKNOWN if share is None else stretch_text(share).replace("%", " %")

    def percent(self, share: float | None) -> str:
        """Return a share."""
        return UNKNOWN if share is None else f"{100.0 * share:.0f} %"


def grams(mass_g: float | None) -> str:
    """Return what to weigh out, as a scale shows it.

    Examples
    --------
    >>> grams(2245.0), grams(35.12), grams(35.0)
    ('2245 g', '35.1 g', '35 g')
    """
    return UNKNOWN if mass_g is None else f"{mass_g:.1f}".removesuffix(".0") + " g"


def part_text(batch: dict[str, Any], part: str) -> str:
    """Return how much of a part goes into a batch: by weight, or by volume where it is mixed so.

    Examples
    --------
    >>> part_text({"a_g": 351.0, "a_ml": None}, "a"), part_text({"a_g": 351.0, "a_ml": 325.0}, "a")
    ('351 g', '325 ml')
    """
    by_volume = batch.get(f"{part}_ml")
    return grams(batch[f"{part}_g"]) if by_volume is None else f"{by_volume:.0f} ml"


def pots_said(job: dict[str, Any], kind: str) -> list[Words]:
    """Return how each of the maker's pots of a kind serves this job.

    Examples
    --------
    >>> pot = {"name": "Blue pot", "kind": "pressure", "fits": "lying", "used_kpa": 275.0,
    ...        "rated_kpa": 300.0}
    >>> pots_said({"rubber": {"pots": [pot]}}, "pressure")[0].words
    'Blue pot: fits lying; go to 275 kPa (40 psi), rated 300 kPa (44 psi).'
    """
    return [
        Words(
            f"{one['name']}: too small for this job."
            if one["fits"] == TOO_LARGE
            else f"{one['name']}: fits {one['fits']}; go to {pressure_text(one['used_kpa'])},"
            f" rated {pressure_text(one['rated_kpa'])}."
        )
        for one in job["rubber"]["pots"]
        if one["kind"] == kind
    ]


def heeded(warnings: Sequence[dict[str, Any]], stages: Sequence[str], said: Said) -> list[Heed]:
    """Return the warnings of some stages, each with the height of its place where it has one.

    Examples
    --------
    >>> heeded([{"stage": "cut", "text": "Thick web.", "at_mm": [3, 4, 52.8]}], ("cut",), Said())
    [Heed(words='Thick web. (52.8 mm over the board)', usual=False)]
    """
    found = []
    for one in warnings:
        if one["stage"] in stages:
            place = said.length(one["at_mm"][2]) if one.get("at_mm") else ""
            text = said.text(one["text"])
            told = not place or f"{place} above the board" in text
            found.append(Heed(text if told else f"{text} ({place} over the board)"))
    return found
