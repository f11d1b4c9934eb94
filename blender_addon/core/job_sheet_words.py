"""How the job sheet says numbers, and its warnings beside the work that they concern."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .sheet.blocks import Heed
from .units import length_text, mass_text, time_text, volume_text

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

    def size(self, size_mm: Sequence[float]) -> str:
        """Return two or three lengths."""
        return " x ".join(self.length(one) for one in size_mm)

    def volume(self, volume_ml: float | None) -> str:
        """Return a volume."""
        return UNKNOWN if volume_ml is None else volume_text(volume_ml)

    def mass(self, mass_g: float | None) -> str:
        """Return a mass."""
        return UNKNOWN if mass_g is None else mass_text(mass_g)

    def time(self, seconds: float | None) -> str:
        """Return a duration."""
        return UNKNOWN if seconds is None else time_text(seconds)

    def percent(self, share: float | None) -> str:
        """Return a share."""
        return UNKNOWN if share is None else f"{100.0 * share:.0f} %"


def grams(mass_g: float | None) -> str:
    """Return what to weigh out, as a scale shows it.

    Examples
    --------
    >>> grams(2245.04), grams(35.12)
    ('2245 g', '35.1 g')
    """
    if mass_g is None:
        return UNKNOWN
    return f"{mass_g:.0f} g" if mass_g >= 100.0 else f"{mass_g:.1f} g"


def heeded(warnings: Sequence[dict[str, Any]], stages: Sequence[str]) -> list[Heed]:
    """Return the warnings of some stages.

    Examples
    --------
    >>> heeded([{"stage": "cut", "text": "Thick web."}], ("cut",))[0].words
    'Thick web.'
    """
    return [Heed(one["text"]) for one in warnings if one["stage"] in stages]
