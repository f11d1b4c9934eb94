"""Settings for pieces of different sizes: what a maker would change first, in one word."""

from __future__ import annotations

from typing import Any

from .settings import Settings, from_tables

PRESETS: dict[str, dict[str, dict[str, Any]]] = {
    "small": {
        "scan": {"riser_mm": 3.0},
        "bubbles": {"brush_mm": 3.0, "margin_mm": 2.0, "noise_mm": 0.5, "least_island_cm2": 0.05},
        "case": {
            "least_rubber_mm": 8.0, "cut_rubber_mm": 12.0, "least_channel_mm": 12.0,
            "cover_mm": 12.0, "freeboard_mm": 8.0,
        },
        "funnel": {"bowl_ml": 100.0},
        "cut": {"least_slit_mm": 15.0, "straight_mm": 3.0, "keep_off_mm": 2.0},
        "resin": {"shell_mm": 2.0},
        "parts": {"board_mm": 5.0, "flange_mm": 14.0, "bolt": "M3", "bolt_pitch_mm": 40.0},
    },
    "medium": {},
    "large": {
        "scan": {"riser_mm": 8.0},
        "bubbles": {"brush_mm": 8.0, "margin_mm": 5.0, "noise_mm": 1.5, "least_island_cm2": 0.5},
        "case": {
            "least_rubber_mm": 18.0, "cut_rubber_mm": 25.0, "least_channel_mm": 30.0,
            "cover_mm": 25.0, "freeboard_mm": 15.0,
        },
        "funnel": {"bowl_ml": 800.0},
        "cut": {"least_slit_mm": 50.0, "straight_mm": 8.0, "keep_off_mm": 4.0},
        "resin": {"shell_mm": 5.0},
        "parts": {
            "board_mm": 10.0, "flange_mm": 20.0, "flange_thickness_mm": 8.0, "bolt": "M6",
            "bolt_pitch_mm": 80.0,
        },
    },
}  # fmt: skip
"""What differs from the defaults, by stage and name: up to about 80 mm, up to about 250 mm, beyond.

Common practice, no source: a wall of rubber grows with the piece, but more slowly, as its own
weight bends it; brush and bolts follow the size of what they have to reach or hold.
"""


def preset(name: str) -> Settings:
    """Return the settings of a preset.

    Parameters
    ----------
    name : str
        One of `PRESETS`.

    Examples
    --------
    >>> preset("medium") == Settings(), preset("large").case.least_rubber_mm
    (True, 18.0)
    """
    return from_tables(PRESETS[name])
