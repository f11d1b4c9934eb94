"""How the parts are printed and bolted."""

from __future__ import annotations

from dataclasses import dataclass

from ..constants.parts import BOLT_HOLES_MM
from ..fields import Checked, choice, number

NO_GUIDE, EDGE_GUIDE = "none", "edge"


@dataclass(frozen=True)
class PartsSettings(Checked):
    """What a printer and a bolt need."""

    fit_mm: float = number(
        0.3, 0.05, 2.0, "mm", "Fit",
        "clearance on each side between printed parts that slide into each other",
    )  # fmt: skip
    board_mm: float = number(
        6.0, 2.0, 40.0, "mm", "Board",
        "thickness of the base board",
    )  # fmt: skip
    groove_mm: float = number(
        2.0, 0.0, 10.0, "mm", "Board Groove",
        "how deep a printed case stands in the board; a tube from stock stands on it",
    )  # fmt: skip
    flange_mm: float = number(
        16.0, 8.0, 60.0, "mm", "Flange",
        "width of the flanges along the seam",
    )  # fmt: skip
    flange_thickness_mm: float = number(
        5.0, 2.0, 20.0, "mm", "Flange Thickness",
        "of the flange on each side of a seam",
    )  # fmt: skip
    seam: str = choice(
        "tongue", ("tongue", "cord", "plain"), "Seam",
        "what keeps rubber in: a tongue in a groove, a soft round cord in a groove, or wax alone",
    )  # fmt: skip
    cord_mm: float = number(
        2.0, 1.0, 6.0, "mm", "Cord",
        "diameter of the soft round cord, where the seams have one",
    )  # fmt: skip
    closing: str = choice(
        "bolts", ("bolts", "clips"), "Closing",
        "what presses the flanges together: bolts with washers, or spring clips in seats",
    )  # fmt: skip
    bolt: str = choice(
        "M4", tuple(BOLT_HOLES_MM), "Bolt",
        "thread of the bolts through the flanges",
    )  # fmt: skip
    clip_mm: float = number(
        20.0, 5.0, 80.0, "mm", "Clip",
        "width of the spring clips, where clips close the seams",
    )  # fmt: skip
    bolt_pitch_mm: float = number(
        60.0, 15.0, 300.0, "mm", "Bolt Pitch",
        "greatest distance from bolt to bolt, or from clip to clip",
    )  # fmt: skip
    guide: str = choice(
        NO_GUIDE, (NO_GUIDE, EDGE_GUIDE), "Knife Guide",
        "a plate to print whose edge is the knife's line on the block; the knife card does without",
    )  # fmt: skip
    bed_x_mm: float = number(
        220.0, 60.0, 2000.0, "mm", "Bed Width",
        "what your printer prints from left to right; larger parts are split",
    )  # fmt: skip
    bed_y_mm: float = number(
        220.0, 60.0, 2000.0, "mm", "Bed Depth",
        "what your printer prints from front to back; larger parts are split",
    )  # fmt: skip
    bed_z_mm: float = number(
        250.0, 60.0, 2000.0, "mm", "Print Height",
        "what your printer prints upward; taller parts are split into rings",
    )  # fmt: skip
