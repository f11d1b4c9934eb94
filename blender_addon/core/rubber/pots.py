"""Which pots the block goes into, and how far each may be driven."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..catalog.pots import PRESSURE, pots
from ..constants.rubber import POT_CLEARANCE_MM
from ..notices import Notice
from ..sentences import a_length
from ..units import ML_PER_MM3
from .gas import growth_under_vacuum, shrunk_bubble

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..catalog.pots import Pot
    from .settings import RubberSettings

UPRIGHT, LYING, TOO_LARGE = "upright", "lying", "no"


@dataclass(frozen=True)
class PotFit:
    """What a pot does for this block.

    ``fits`` is "upright", "lying" or "no" for a pressure pot and the block, "upright" or "no" for a
    vacuum chamber and the vessel of one batch. ``used_kpa`` is what to go to: never above
    ``rated_kpa``. ``bubble_share`` is the diameter of a bubble then by that in the open.
    """

    name: str
    kind: str
    fits: str
    used_kpa: float
    rated_kpa: float
    bubble_share: float


def pots_of(settings: RubberSettings) -> tuple[Pot, ...]:
    """Return the user's pots; none where no list is given.

    Raises
    ------
    UnreadableFileError, BadSettingError
        If the list cannot be used.
    """
    return pots(settings.pots_file) if settings.pots_file else ()


def how_it_fits(across_mm: float, high_mm: float, pot: Pot) -> str:
    """Return how a round block stands in a round pot, with room to lift it.

    Lying, its outline from above is a rectangle, ``high_mm`` by ``across_mm``.

    Parameters
    ----------
    across_mm, high_mm : float
        Diameter of the circle round the block, and its height.
    pot : Pot
        Clear inside.

    Examples
    --------
    >>> from blender_addon.core.catalog.pots import Pot
    >>> pot = Pot("a", "pressure", 300.0, 260.0, 300.0)
    >>> [how_it_fits(across, high, pot) for across, high in ((160, 250), (145, 251), (160, 251))]
    ['upright', 'lying', 'no']
    """
    wide, deep = pot.inner_diameter_mm - 2 * POT_CLEARANCE_MM, pot.depth_mm - 2 * POT_CLEARANCE_MM
    if across_mm <= wide and high_mm <= deep:
        return UPRIGHT
    if math.hypot(across_mm, high_mm) <= wide and across_mm <= deep:
        return LYING
    return TOO_LARGE


def vessel_room_ml(pot: Pot) -> float:
    """Return what the largest round vessel holds that goes into a chamber with room to lift it.

    Examples
    --------
    >>> from blender_addon.core.catalog.pots import Pot
    >>> round(vessel_room_ml(Pot("b", "vacuum", 210.0, 260.0, 98.0)))
    7854
    """
    wide, deep = pot.inner_diameter_mm - 2 * POT_CLEARANCE_MM, pot.depth_mm - 2 * POT_CLEARANCE_MM
    return math.pi / 4.0 * wide**2 * deep * ML_PER_MM3


def fits_of(
    listed: Sequence[Pot], block_mm: tuple[float, float], vessel_ml: float, settings: RubberSettings
) -> tuple[PotFit, ...]:
    """Return how each of the user's pots serves this block.

    Parameters
    ----------
    listed : sequence of Pot
        The user's.
    block_mm : tuple
        Diameter of the circle round the block, and its height.
    vessel_ml : float
        Vessel for degassing one batch.
    settings : RubberSettings
        Wanted pressure and vacuum, air outside.
    """
    found = []
    for pot in listed:
        if pot.kind == PRESSURE:
            used, fits = min(settings.pressure_kpa, pot.rated_kpa), how_it_fits(*block_mm, pot)
            share = shrunk_bubble(used, settings.air_kpa)
        else:
            used = min(settings.vacuum_kpa, pot.rated_kpa)
            fits = UPRIGHT if vessel_room_ml(pot) >= vessel_ml else TOO_LARGE
            share = growth_under_vacuum(used, settings.air_kpa) ** (1.0 / 3.0)
        found.append(PotFit(pot.name, pot.kind, fits, used, pot.rated_kpa, share))
    return tuple(found)


def pot_notices(
    fits: Sequence[PotFit], block_mm: tuple[float, float], settings: RubberSettings
) -> tuple[Notice, ...]:
    """Return warnings of pots that take less than is wanted, and of a block that fits none."""
    wanted = {PRESSURE: settings.pressure_kpa}
    found = [
        Notice(
            "pot_limit",
            f"{one.name} is rated for {one.rated_kpa:g} kPa, less than the"
            f" {wanted.get(one.kind, settings.vacuum_kpa):g} kPa asked for: go no further than its"
            " rated limit, with gauge and relief valve in order.",
        )
        for one in fits
        if one.used_kpa < wanted.get(one.kind, settings.vacuum_kpa)
    ]
    pressure = [one for one in fits if one.kind == PRESSURE]
    if pressure and all(one.fits == TOO_LARGE for one in pressure):
        across, high = (a_length(one) for one in block_mm)
        text = f"The block, {across} across and {high} high, goes into none of the pressure pots."
        found.append(Notice("no_pot", text))
    return tuple(found)
