"""What the maker may say of the scan."""

from __future__ import annotations

from dataclasses import dataclass

from ..constants.scan import LEAST_SCALE, MOST_SCALE, TALLEST_MASTER_MM
from ..fields import Checked, choice, number

AUTO = "auto"
AXES = (AUTO, "+x", "-x", "+y", "-y", "+z", "-z")


@dataclass(frozen=True)
class ScanSettings(Checked):
    """How the scan is sized, stood up and mended."""

    height_mm: float = number(
        0.0, 0.0, TALLEST_MASTER_MM, "mm", "Height",
        "true height of the piece, base to top; 0 takes the scan's own units as millimeters",
    )  # fmt: skip
    width_mm: float = number(
        0.0, 0.0, TALLEST_MASTER_MM, "mm", "Width",
        "true width of the upright piece along x, where that was measured instead of its height",
    )  # fmt: skip
    depth_mm: float = number(
        0.0, 0.0, TALLEST_MASTER_MM, "mm", "Depth",
        "true depth of the upright piece along y, where that was measured instead of its height",
    )  # fmt: skip
    scale: float = number(
        1.0, LEAST_SCALE, MOST_SCALE, "", "Scale",
        "what the scan's numbers are multiplied by where no dimension is given: 25.4 for inches",
    )  # fmt: skip
    up: str = choice(
        AUTO, AXES, "Up",
        "axis of the scan that points up in the pour; auto finds the flat base",
    )  # fmt: skip
    riser_mm: float = number(
        6.35, 0.0, 50.0, "mm", "Riser",
        "lift under the base: what the copy will lose to shrinkage and sanding",
    )  # fmt: skip
    speck_percent: float = number(
        1.0, 0.0, 20.0, "%", "Smallest Piece",
        "loose pieces with less of the area than this are scanner dust and dropped",
    )  # fmt: skip
    seam_mm: float = number(
        1.0, 0.01, 10.0, "mm", "Base Tolerance",
        "down-facing faces this close to the lowest point stand on the board, sealed with wax",
    )  # fmt: skip
