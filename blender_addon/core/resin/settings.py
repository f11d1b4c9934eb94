"""The resin, from its data sheet, and how the copy is built up."""

from __future__ import annotations

from dataclasses import dataclass

from ..catalog.sheets import ResinSheet
from ..errors import BadSettingError
from ..fields import choice, number, text

FILLED, HOLLOW = "filled", "hollow"


@dataclass(frozen=True)
class ResinSettings(ResinSheet):
    """The data sheet first, then shell, fills, scale, and what shrinks afterwards."""

    shell_mm: float = number(
        3.0, 0.5, 30.0, "mm", "Shell",
        "wall of resin that is turned by hand before the rest is filled",
    )  # fmt: skip
    coat_mm: float = number(
        1.5, 0.2, 10.0, "mm", "One Coat",
        "what stays on the walls when one batch is turned until it gels",
    )  # fmt: skip
    inside: str = choice(
        FILLED, (FILLED, HOLLOW), "Inside",
        "whether the shell is filled up, or left hollow with a plug in the opening",
    )  # fmt: skip
    plug_mm: float = number(
        10.0, 1.0, 100.0, "mm", "Plug",
        "thickness of the plug that closes the opening of a hollow copy",
    )  # fmt: skip
    stage_g: float = number(
        400.0, 10.0, 5000.0, "g", "Largest Fill",
        "what is mixed at once: no coat and no fill is heavier; see the data sheet",
    )  # fmt: skip
    mix_min: float = number(
        1.0, 0.0, 60.0, "min", "Mixing",
        "from the first stir on; goes off the pot life",
    )  # fmt: skip
    room_c: float = number(
        20.0, 0.0, 45.0, "°C", "Room",
        "temperature that resin and mold have before the fill",
    )  # fmt: skip
    scale_step_g: float = number(
        1.0, 0.01, 50.0, "g", "Scale Shows",
        "smallest step of the scale; parts are rounded to it",
    )  # fmt: skip
    lean_deg: float = number(
        0.0, 0.0, 45.0, "deg", "Mold Leans",
        "how far the upturned mold leans while it is filled; 0 stands level",
    )  # fmt: skip
    lean_towards_deg: float = number(
        0.0, 0.0, 360.0, "deg", "Leans To",
        "the side whose rim is lowest, counter-clockwise from the scan's +x seen from above",
    )  # fmt: skip
    plaster_percent: float = number(
        0.0, -5.0, 10.0, "%", "Plaster Shrinks",
        "of a plaster mold taken from the copy, in length; below 0 it grows, 0 leaves it out",
    )  # fmt: skip
    ceramic_percent: float = number(
        0.0, 0.0, 30.0, "%", "Ceramic Shrinks",
        "from the wet cast to the fired piece, in length; 0 leaves it out",
    )  # fmt: skip
    opening_mm: float = number(
        0.0, 0.0, 1000.0, "mm", "Opening",
        "an opening of the clay whose size matters later; 0 for none",
    )  # fmt: skip
    wanted_height_mm: float = number(
        0.0, 0.0, 3000.0, "mm", "Wanted Height",
        "height that the last piece shall have; tells how high to sculpt, 0 asks nothing",
    )  # fmt: skip
    wanted_width_mm: float = number(
        0.0, 0.0, 3000.0, "mm", "Wanted Width",
        "width that the last piece shall have; tells how wide to sculpt, 0 asks nothing",
    )  # fmt: skip
    wanted_opening_mm: float = number(
        0.0, 0.0, 1000.0, "mm", "Wanted Opening",
        "opening that the last piece shall have; tells how wide to sculpt it, 0 asks nothing",
    )  # fmt: skip
    materials_file: str = text(
        "", "Own Materials",
        "TOML list of resins from your data sheets; empty takes the common classes",
    )  # fmt: skip

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.pot_life_min <= self.mix_min:
            message = (
                f"{self.pot_life_min:g} min is over before the fill: mixing takes"
                f" {self.mix_min:g} min. Check both."
            )
            raise BadSettingError("pot_life_min", message)
