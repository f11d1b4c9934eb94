"""What shrinks on the way from the clay, and what size to sculpt for a wanted one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING

from ..catalog.sheets import BY_VOLUME
from ..constants.resin import SANDING_MM
from ..notices import Notice
from ..sentences import a_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .settings import ResinSettings

CLAY, RESIN, PLASTER, CERAMIC = "clay", "resin copy", "plaster mold", "ceramic"


@dataclass(frozen=True)
class ShrinkStep:
    """A stage of the piece: its linear size by that of the clay, and its sizes.

    ``opening_mm`` is None where no opening was told.
    """

    name: str
    by_clay: float
    size_mm: tuple[float, float, float]
    opening_mm: float | None


@dataclass(frozen=True)
class Sculpt:
    """What to sculpt so that the last piece has the wanted sizes; None where none is wanted.

    ``times`` is how many times larger than the last piece the clay is.
    """

    times: float
    height_mm: float | None
    width_mm: float | None
    opening_mm: float | None


def left_of(percents: Sequence[float]) -> float:
    """Return what is left of a length after it shrinks by each percentage in turn.

    They multiply: 6 and 7 % are 12.58 %, not 13.

    Examples
    --------
    >>> round(100.0 / left_of([12.0]), 3), round(100.0 / left_of([6.0, 7.0]), 3)
    (113.636, 114.39)
    """
    left = 1.0
    for percent in percents:
        left *= 1.0 - percent / 100.0
    return left


def linear_percent(volume_percent: float) -> float:
    """Return the shrink in length of one that a data sheet gives by volume.

    Examples
    --------
    >>> round(linear_percent(2.0), 4)
    0.6712
    """
    share: float = (1.0 - volume_percent / 100.0) ** (1.0 / 3.0)
    return 100.0 * (1.0 - share)


def shrinkage_of(
    size_mm: tuple[float, float, float], rubber_percent: float, settings: ResinSettings
) -> tuple[ShrinkStep, ...]:
    """Return the piece at each step, the clay first; steps that do not shrink are left out.

    Parameters
    ----------
    size_mm : tuple
        Of the clay.
    rubber_percent : float
        How much smaller the cured mold is: block and cavity shrink as one.
    settings : ResinSettings
        The others, and the opening.
    """
    by_volume = settings.shrink_by == BY_VOLUME
    percent = linear_percent(settings.shrink_percent) if by_volume else settings.shrink_percent
    resin = left_of([rubber_percent, percent])
    steps = [(CLAY, 1.0), (RESIN, resin)]
    if settings.plaster_percent:
        steps.append((PLASTER, left_of([settings.plaster_percent])))
    if settings.ceramic_percent:
        steps.append((CERAMIC, left_of([settings.ceramic_percent])))
    along = accumulate((share for _, share in steps), lambda all_before, share: all_before * share)
    x, y, z = size_mm
    opening = settings.opening_mm
    return tuple(
        ShrinkStep(name, left, (x * left, y * left, z * left), opening * left if opening else None)
        for (name, _), left in zip(steps, along, strict=True)
    )


def sculpt_of(last: ShrinkStep, settings: ResinSettings) -> Sculpt:
    """Return what to sculpt to end with the wanted sizes at the last step.

    Examples
    --------
    >>> from blender_addon.core.resin.settings import ResinSettings
    >>> last = ShrinkStep("ceramic", 0.88, (88.0, 88.0, 176.0), None)
    >>> round(sculpt_of(last, ResinSettings(wanted_height_mm=100.0)).height_mm, 3)
    113.636
    """

    def sized(wanted_mm: float) -> float | None:
        return wanted_mm / last.by_clay if wanted_mm else None

    return Sculpt(
        times=1.0 / last.by_clay,
        height_mm=sized(settings.wanted_height_mm),
        width_mm=sized(settings.wanted_width_mm),
        opening_mm=sized(settings.wanted_opening_mm),
    )


def riser_notices(height_mm: float, copy: ShrinkStep, riser_mm: float) -> tuple[Notice, ...]:
    """Return a warning when the riser does not make up for what shrinks and is sanded off.

    Examples
    --------
    >>> copy = ShrinkStep("resin copy", 0.996 * 0.98, (1.0, 1.0, 1.0), None)
    >>> [notice.code for notice in riser_notices(300.0, copy, 6.0)]
    ['low_riser']
    """
    lost_mm = height_mm * (1.0 - copy.by_clay)
    if riser_mm <= 0.0 or lost_mm + SANDING_MM <= riser_mm:
        return ()
    text = (
        f"The copy comes out {a_length(lost_mm)} lower than the clay. A riser of"
        f" {a_length(riser_mm)} does not make up for that and {a_length(SANDING_MM)} of"
        " sanding: take a higher riser."
    )
    return (Notice("low_riser", text),)
