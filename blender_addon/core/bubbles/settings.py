"""How closely the maker wants to look for air."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class BubblesSettings(Checked):
    """Where air stays, and what is brushed with rubber before the pour."""

    pitch_mm: float = number(
        0.0, 0.0, 20.0, "mm", "Column Pitch",
        "width of the columns that air is counted in; 0 takes a 300th of the largest size",
    )  # fmt: skip
    clinging_deg: float = number(
        15.0, 0.0, 60.0, "deg", "Clinging Angle",
        "undersides flatter than this hold small bubbles; look closely up to 30",
    )  # fmt: skip
    noise_mm: float = number(
        1.0, 0.0, 10.0, "mm", "Noise Radius",
        "how far round a place its slope is averaged, or scanner noise speckles the map",
    )  # fmt: skip
    brush_mm: float = number(
        6.0, 0.5, 50.0, "mm", "Brush",
        "ball that must reach a place from outside, or it fills slowly and keeps bubbles",
    )  # fmt: skip
    margin_mm: float = number(
        3.0, 0.0, 50.0, "mm", "Brush Margin",
        "how far past such places to brush, along the surface",
    )  # fmt: skip
    coat_mm: float = number(
        1.0, 0.1, 10.0, "mm", "Brush Coat",
        "thickness of the rubber brushed on beforehand",
    )  # fmt: skip
    coat_density_kg_m3: float = number(
        1080.0, 800.0, 2000.0, "kg/m3", "Coat Density",
        "density of the rubber brushed on; see its data sheet",
    )  # fmt: skip
    least_island_cm2: float = number(
        0.2, 0.0, 10.0, "cm2", "Smallest Brushed Place",
        "clinging and narrow places smaller than this are left to the pour",
    )  # fmt: skip
    lean_limit_deg: float = number(
        35.0, 0.0, 60.0, "deg", "Lean Limit",
        "how far the case may lean during the pour; 0 looks at no leans",
    )  # fmt: skip
