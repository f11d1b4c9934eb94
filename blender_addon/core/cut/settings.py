"""What the maker asks of the cut."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class CutSettings(Checked):
    """One slit: straight at the piece, jagged further out, so that the lips lock."""

    elongation_percent: float = number(
        400.0, 20.0, 1500.0, "%", "Elongation at Break",
        "how far the rubber stretches before it tears; see its data sheet (ISO 37)",
    )  # fmt: skip
    safe_share_percent: float = number(
        33.0, 5.0, 50.0, "%", "Safe Share of It",
        "share of the elongation that a mold is stretched by again and again",
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
        10.0, 3.0, 60.0, "mm", "Tooth",
        "pitch of the zig-zag",
    )  # fmt: skip
    keep_off_mm: float = number(
        3.0, 1.0, 20.0, "mm", "Keep Off",
        "least distance of the teeth from the master and from the outside of the block",
    )  # fmt: skip
