"""The resin, from its data sheet, and how the copy is built up."""

from __future__ import annotations

from dataclasses import dataclass

from ..fields import Checked, number


@dataclass(frozen=True)
class ResinSettings(Checked):
    """Typical values of a fast polyurethane; the data sheet of yours goes before them."""

    density_kg_m3: float = number(
        1050.0, 500.0, 3000.0, "kg/m3", "Density",
        "mass of the cured resin by volume; see its data sheet (ISO 1183)",
    )  # fmt: skip
    shell_mm: float = number(
        3.0, 0.5, 30.0, "mm", "Shell",
        "wall of the first coat that is turned by hand",
    )  # fmt: skip
    stage_g: float = number(
        400.0, 10.0, 5000.0, "g", "Largest Fill",
        "fast resin heats up: no single fill is heavier; see its data sheet",
    )  # fmt: skip
