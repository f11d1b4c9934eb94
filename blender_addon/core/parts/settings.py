"""How the parts are printed and bolted."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class PartsSettings(Checked):
    """What a printer and a bolt need."""

    fit_mm: float = number(
        0.3, 0.05, 2.0, "mm", "Fit",
        "clearance between printed parts that slide into each other",
    )  # fmt: skip
    board_mm: float = number(
        6.0, 2.0, 40.0, "mm", "Board",
        "thickness of the base board",
    )  # fmt: skip
    flange_mm: float = number(
        16.0, 8.0, 60.0, "mm", "Flange",
        "width of the flanges along the seam",
    )  # fmt: skip
    flange_thickness_mm: float = number(
        5.0, 2.0, 20.0, "mm", "Flange Thickness",
        "of each half's flange",
    )  # fmt: skip
    bolt_mm: float = number(
        4.0, 2.0, 12.0, "mm", "Bolt",
        "thread of the bolts through the flanges",
    )  # fmt: skip
    bolt_pitch_mm: float = number(
        60.0, 15.0, 300.0, "mm", "Bolt Pitch",
        "greatest distance from bolt to bolt",
    )  # fmt: skip
