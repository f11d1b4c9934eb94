"""How the sheets for the bench are printed."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, choice
from .page import PAPERS

MILLIMETERS, INCHES = "millimeters", "inches"


@dataclass(frozen=True)
class SheetSettings(Checked):
    """Paper and units of templates and job sheet."""

    paper: str = choice(
        "A4", tuple(PAPERS), "Paper",
        "size of the sheets in your printer; larger drawings go over several, to be joined",
    )  # fmt: skip
    units: str = choice(
        MILLIMETERS, (MILLIMETERS, INCHES), "Units",
        "unit of the lengths in words; drawings are at true size in either",
    )  # fmt: skip

    @property
    def inches(self) -> bool:
        """Whether words give inches."""
        return self.units == INCHES
