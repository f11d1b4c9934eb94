"""What to put on the scale: whole steps of it, that add up to the last one."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..catalog.sheets import BY_VOLUME, share_of_a
from ..constants.rubber import MIX_ERROR_SHARE
from ..notices import Notice
from ..units import KG_M3_TO_G_ML

if TYPE_CHECKING:
    from ..catalog.sheets import Sheet

DECIMALS = 3
"""Of a gram: finer than any bench scale, and it takes the noise off a sum of steps."""


@dataclass(frozen=True)
class Batch:
    """One cup: the two parts by weight and the room they take.

    ``a_ml`` and ``b_ml`` are the same by volume, where the ratio is one by volume.
    """

    a_g: float
    b_g: float
    cup_ml: float
    a_ml: float | None = None
    b_ml: float | None = None

    @property
    def g(self) -> float:
        """Return both parts together."""
        return round(self.a_g + self.b_g, DECIMALS)


def batch_of(mass_g: float, sheet: Sheet, step_g: float = 1.0) -> Batch:
    """Return one batch of at least so much, each part in whole steps of the scale.

    Parameters
    ----------
    mass_g : float
        Wanted.
    sheet : RubberSheet or ResinSheet
        Density and ratio.
    step_g : float
        What the scale tells apart.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import ResinSheet
    >>> batch = batch_of(134.06, ResinSheet(a_parts=100.0, b_parts=90.0))
    >>> batch.a_g, batch.b_g, batch.g
    (71.0, 64.0, 135.0)
    """
    steps = _steps(mass_g, step_g)
    a = round(steps * share_of_a(sheet))
    a_g, b_g = round(a * step_g, DECIMALS), round((steps - a) * step_g, DECIMALS)
    batch = Batch(a_g, b_g, steps * step_g / (sheet.density_kg_m3 * KG_M3_TO_G_ML))
    if sheet.mix_by != BY_VOLUME:
        return batch
    a_ml = a_g / (sheet.a_density_kg_m3 * KG_M3_TO_G_ML)
    b_ml = b_g / (sheet.b_density_kg_m3 * KG_M3_TO_G_ML)
    return Batch(a_g, b_g, batch.cup_ml, a_ml, b_ml)


def true_batch_of(mass_g: float, sheet: Sheet, step_g: float) -> Batch:
    """Return the least batch of at least so much whose parts in whole steps keep the ratio.

    A small one would be wrong, or have nothing of one part at all: more of it is mixed than needed.

    Parameters
    ----------
    mass_g, sheet, step_g
        As `batch_of`.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import RubberSheet
    >>> ten_to_one = RubberSheet(a_parts=10.0, b_parts=1.0)
    >>> [(one.a_g, one.b_g) for one in (true_batch_of(m, ten_to_one, 1.0) for m in (2.0, 23.0))]
    [(10.0, 1.0), (30.0, 3.0)]
    """
    least = _steps(mass_g, step_g)
    small = min(share_of_a(sheet), 1.0 - share_of_a(sheet))
    for of_small in itertools.count(max(math.floor(least * small), 1)):
        steps = max(least, math.ceil(of_small / small / (1.0 + MIX_ERROR_SHARE)))
        batch = batch_of(steps * step_g, sheet, step_g)
        if _off(batch, sheet) <= MIX_ERROR_SHARE:
            break
    return batch


def batches_within(mass_g: float, sheet: Sheet, step_g: float, most_g: float) -> tuple[Batch, ...]:
    """Return the fewest batches, equal to a step of the scale, of which none is heavier.

    Parameters
    ----------
    mass_g : float
        Of all together; they add up to it, rounded up to a whole step.
    sheet, step_g
        As `batch_of`.
    most_g : float
        What one batch may weigh.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import RubberSheet
    >>> [one.g for one in batches_within(2400.5, RubberSheet(), 1.0, 1000.0)]
    [801.0, 800.0, 800.0]
    """
    most = max(math.floor(most_g / step_g + 1e-9), 1)
    return batches_in(mass_g, math.ceil(_steps(mass_g, step_g) / most), sheet, step_g)


def batches_in(mass_g: float, count: int, sheet: Sheet, step_g: float) -> tuple[Batch, ...]:
    """Return so many batches, equal to a step of the scale; otherwise as `batches_within`.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import ResinSheet
    >>> [one.g for one in batches_in(214.2, 2, ResinSheet(), 1.0)]
    [108.0, 107.0]
    """
    if count <= 0:
        return ()
    each, more = divmod(_steps(mass_g, step_g), count)
    return tuple(
        batch_of((each + (number < more)) * step_g, sheet, step_g) for number in range(count)
    )


def _steps(mass_g: float, step_g: float) -> int:
    return max(math.ceil(mass_g / step_g - 1e-6), 1)


def mass_of(batches: tuple[Batch, ...]) -> float:
    """Return what batches weigh together.

    Examples
    --------
    >>> mass_of((Batch(0.1, 0.2, 1.0), Batch(0.2, 0.2, 1.0)))
    0.7
    """
    return round(sum(one.a_g + one.b_g for one in batches), DECIMALS)


def coarse_scale(batches: tuple[Batch, ...], sheet: Sheet, step_g: float) -> tuple[Notice, ...]:
    """Return a warning when whole steps of the scale change the ratio too much.

    Examples
    --------
    >>> from blender_addon.core.catalog.sheets import RubberSheet
    >>> sheet = RubberSheet(a_parts=100.0, b_parts=3.0)
    >>> [one.code for one in coarse_scale((batch_of(50.0, sheet),), sheet, 1.0)]
    ['coarse_scale']
    >>> coarse_scale((batch_of(5000.0, sheet),), sheet, 1.0)
    ()
    """
    off = max((_off(one, sheet) for one in batches), default=0.0)
    if off <= MIX_ERROR_SHARE:
        return ()
    text = (
        f"On a scale that shows steps of {step_g:g} g the small part comes out {100.0 * off:.0f} %"
        " off the ratio: weigh it on a finer scale, or mix more at once."
    )
    return (Notice("coarse_scale", text),)


def _off(batch: Batch, sheet: Sheet) -> float:
    """Return by which share the smaller part is off the ratio."""
    small = min(share_of_a(sheet), 1.0 - share_of_a(sheet))
    return abs(min(batch.a_g, batch.b_g) / (small * (batch.a_g + batch.b_g)) - 1.0)
