"""What the maker asks of the cut."""

from __future__ import annotations

from dataclasses import dataclass

from ..constants.cut import LEAST_SAFE_SHARE_PERCENT
from ..fields import Checked, choice, number

WAYS = ("best", "slit", "halves")
SIDES = ("best", "back", "front", "left", "right")


@dataclass(frozen=True)
class CutSettings(Checked):
    """How the block is opened: as little as lets the piece out, where it shows least."""

    way: str = choice(
        "best", WAYS, "Way to Open",
        "best takes one slit where that lets the piece out by one person's pull, else two halves",
    )  # fmt: skip
    side: str = choice(
        "best", SIDES, "Slit Side",
        "where the slit starts, as you stand before the front; the pour channel is at the back",
    )  # fmt: skip
    start_deg: float = number(
        -1.0, -1.0, 360.0, "deg", "Slit Start",
        "where the slit starts, counter-clockwise from the scan's +x seen from above; -1: free",
    )  # fmt: skip
    split_deg: float = number(
        -1.0, -1.0, 180.0, "deg", "Halves Open Toward",
        "way that two halves are pulled, as the slit's start; -1: the one with least undercut",
    )  # fmt: skip
    elongation_percent: float = number(
        400.0, 20.0, 1500.0, "%", "Elongation at Break",
        "how far the rubber stretches before it tears; see its data sheet (ISO 37)",
    )  # fmt: skip
    safe_share_percent: float = number(
        33.0, LEAST_SAFE_SHARE_PERCENT, 50.0, "%", "Safe Share of It",
        "share of the elongation that a mold is stretched by again and again",
    )  # fmt: skip
    hardness_shore_a: float = number(
        20.0, 5.0, 60.0, "", "Hardness (Shore A)",
        "how hard the cured rubber is (ISO 48-4); harder rubber takes more force to open",
    )  # fmt: skip
    least_slit_mm: float = number(
        30.0, 0.0, 500.0, "mm", "Shortest Slit",
        "length cut from the base even where the rubber would stretch without",
    )  # fmt: skip
    straight_mm: float = number(
        5.0, 1.0, 50.0, "mm", "Straight Part",
        "depth next to the master that is cut straight, so that no step shows on the copy",
    )  # fmt: skip
    tooth_mm: float = number(
        0.0, 0.0, 60.0, "mm", "Tooth",
        "pitch of the zig-zag; 0 takes it from the thickness of the rubber",
    )  # fmt: skip
    keep_off_mm: float = number(
        3.0, 1.0, 20.0, "mm", "Keep Off",
        "least distance of the teeth from the master and from the outside of the block",
    )  # fmt: skip
    front_weight: float = number(
        4.0, 0.0, 20.0, "", "Hide from the Front",
        "how much longer a slit may get to stay out of sight from the front",
    )  # fmt: skip
    detail_weight: float = number(
        2.0, 0.0, 20.0, "", "Keep off Detail",
        "how much longer a slit may get to stay off places that bend sharply",
    )  # fmt: skip
    detail_mm: float = number(
        3.0, 0.5, 20.0, "mm", "Size of Detail",
        "scale at which bends are looked at: smaller ones count as texture",
    )  # fmt: skip
    rubber_weight: float = number(
        1.0, 0.0, 20.0, "", "Room for Teeth",
        "how much longer a slit may get to run where the rubber is thick enough for teeth",
    )  # fmt: skip
    seam_weight: float = number(
        0.0, 0.0, 20.0, "", "Near the Seam",
        "how much longer a slit may get to run near the seam that the case leaves on the block",
    )  # fmt: skip
