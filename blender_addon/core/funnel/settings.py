"""What the maker asks of the funnel."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class FunnelSettings(Checked):
    """A bowl on the rim with a throat that ends in the channel."""

    clearance_mm: float = number(
        2.0, 0.3, 20.0, "mm", "Clearance",
        "air between the throat and the wall, and between the stream and the master",
    )  # fmt: skip
    widest_throat_mm: float = number(
        400.0, 4.0, 400.0, "mm", "Widest Throat",
        "most that the throat measures; it is as wide as the channel, wider along the wall",
    )  # fmt: skip
    bowl_ml: float = number(
        300.0, 10.0, 5000.0, "ml", "Bowl",
        "what the bowl holds, so that nobody must pour to the second",
    )  # fmt: skip
    wall_mm: float = number(
        2.0, 0.8, 10.0, "mm", "Funnel Wall",
        "wall of the printed funnel",
    )  # fmt: skip
