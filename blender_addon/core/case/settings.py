"""What the maker asks of the case."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, choice, number, text
from .case import AUTOMATIC, KINDS
from .stock_lists import BOTH, COMMON, OWN


@dataclass(frozen=True)
class CaseSettings(Checked):
    """How much rubber stands round the master, and which tubes there are."""

    least_rubber_mm: float = number(
        13.0, 1.0, 200.0, "mm", "Least Rubber",
        "thinnest wall of rubber between the master and the case",
    )  # fmt: skip
    cut_rubber_mm: float = number(
        19.0, 1.0, 200.0, "mm", "Rubber at the Cut",
        "least rubber at the back, where the slit with its teeth will run",
    )  # fmt: skip
    least_channel_mm: float = number(
        20.0, 2.0, 200.0, "mm", "Pour Channel",
        "least width of the clear drop at the back that the stream of rubber falls through",
    )  # fmt: skip
    cover_mm: float = number(
        20.0, 1.0, 200.0, "mm", "Cover",
        "rubber over the top of the master",
    )  # fmt: skip
    freeboard_mm: float = number(
        10.0, 0.0, 200.0, "mm", "Freeboard",
        "case left empty over the rubber, so that nothing spills",
    )  # fmt: skip
    front_deg: float = number(
        -1.0, -1.0, 360.0, "deg", "Front",
        "where the best side looks, counter-clockwise from the scan's +x seen from above; -1: none",
    )  # fmt: skip
    kind: str = choice(
        AUTOMATIC, KINDS, "Case",
        "which case to take; automatic takes the narrowest tube that does, or prints a round one",
    )  # fmt: skip
    tube: str = text(
        "", "Picked Tube",
        "name of the tube to take; empty takes the narrowest that does",
    )  # fmt: skip
    stock: str = choice(
        OWN, (OWN, BOTH, COMMON), "Tubes",
        "which tubes to choose from; common sizes are taken while there is no own list",
    )  # fmt: skip
    stock_file: str = text(
        "", "Own Tubes",
        "list of your tubes, CSV or TOML; empty takes the list in the preferences",
    )  # fmt: skip
    printed_wall_mm: float = number(
        4.0, 1.0, 30.0, "mm", "Printed Wall",
        "least wall of a printed case; it is made thicker where the rubber asks for it",
    )  # fmt: skip
