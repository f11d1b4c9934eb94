"""One tube of stock."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tube:
    """A tube to saw a case from; ``least_inner_diameter_mm`` is the narrowest it may turn out.

    ``length_mm`` is what is left of it on the shelf, ``price_per_m`` is in the user's money; both
    are 0 where nothing is known.

    Examples
    --------
    >>> Tube("drain", 103.6, 3.2, 103.6).outer_diameter_mm
    110.0
    """

    name: str
    inner_diameter_mm: float
    wall_mm: float
    least_inner_diameter_mm: float
    standard: str = ""
    source: str = ""
    material: str = ""
    length_mm: float = 0.0
    price_per_m: float = 0.0

    @property
    def outer_diameter_mm(self) -> float:
        """Across the outside."""
        return self.inner_diameter_mm + 2.0 * self.wall_mm
