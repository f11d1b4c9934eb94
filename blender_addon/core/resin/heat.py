"""How warm a fill can get, how deep it may be, and how long to wait for the next."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..catalog.sheets import EPOXY, POLYESTER
from ..constants.resin import FILL_THICK_MM, LASTING_HEAT_C, RESIN_DIFFUSIVITY_MM2_S
from ..notices import Notice
from ..sentences import a_length
from ..units import mass_text, time_text
from .fills import FillLimits

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from .result import Fill
    from .settings import ResinSettings

_CARE = (
    " Mixed resin heats up, more in thick pours: let each fill gel and cool before the next, and"
    " follow the limits of its data sheet."
)


@dataclass(frozen=True)
class Heat:
    """``most_c`` is what no fill gets hotter than, by ``rise_k`` if no heat leaves it at all.

    ``deepest_mm`` is the deepest fill, ``thickest_mm`` the slab that cools as slowly as the worst
    fill and ``cools_s`` about how long heat takes to leave it. ``limit_mm`` is what the data sheet
    allows in depth, or the class in thickness.
    """

    rise_k: float
    most_c: float
    deepest_mm: float
    thickest_mm: float
    limit_mm: float
    cools_s: float


def fill_limits(settings: ResinSettings, widths: Floats) -> FillLimits:
    """Return how large one fill may be: no deeper than the data sheet says.

    Without one, no thicker than is common for the class: in a narrow place it may be deeper.

    Parameters
    ----------
    settings : ResinSettings
        Class, heaviest and deepest fill.
    widths : ndarray, shape (n, 2)
        Of the hollow, as `level_widths` returns them.

    Examples
    --------
    >>> from blender_addon.core.resin.settings import ResinSettings
    >>> import numpy as np
    >>> widths = np.zeros((1, 2))
    >>> found = fill_limits(ResinSettings(), widths)
    >>> found.thick_mm, found.deep_mm
    (25.0, inf)
    >>> found = fill_limits(ResinSettings(deepest_fill_mm=60.0), widths)
    >>> found.thick_mm, found.deep_mm
    (inf, 60.0)
    """
    if settings.deepest_fill_mm:
        return FillLimits(settings.stage_g, math.inf, settings.deepest_fill_mm, widths)
    return FillLimits(settings.stage_g, FILL_THICK_MM[settings.kind], math.inf, widths)


def cooling_s(thick_mm: float) -> float:
    """Return about how long heat takes to leave a layer of cured resin.

    References
    ----------
    .. [1] Carslaw, Jaeger: Conduction of heat in solids, 2nd ed. 1959, chapter 3: the time goes by
       the square of the thickness over the diffusivity.

    Examples
    --------
    >>> round(cooling_s(4.0)), round(cooling_s(25.0))
    (158, 6188)
    """
    return thick_mm**2 / RESIN_DIFFUSIVITY_MM2_S


def heat_of(fills: Sequence[Fill], settings: ResinSettings) -> Heat:
    """Return the heat of the worst fill, or of the shell where there is none."""
    thick = max((fill.thick_mm for fill in fills), default=settings.shell_mm)
    return Heat(
        rise_k=settings.rise_k,
        most_c=settings.room_c + settings.rise_k,
        deepest_mm=max((fill.deep_mm for fill in fills), default=settings.shell_mm),
        thickest_mm=thick,
        limit_mm=settings.deepest_fill_mm or FILL_THICK_MM[settings.kind],
        cools_s=cooling_s(thick),
    )


def heat_notices(heat: Heat, fills: Sequence[Fill], settings: ResinSettings) -> tuple[Notice, ...]:
    """Return warnings by class, mass and thickness.

    Parameters
    ----------
    heat : Heat
        Of these fills.
    fills : sequence of Fill
        The back-fills.
    settings : ResinSettings
        Class, limits, shell.
    """
    found = []
    common = FILL_THICK_MM[settings.kind]
    if fills and heat.thickest_mm > common * (1.0 + 1e-6):
        worst = max(fills, key=lambda fill: fill.thick_mm)
        text = (
            f"One fill of {mass_text(worst.g)} is {a_length(worst.deep_mm)} deep and cools as"
            f" slowly as a layer of {a_length(worst.thick_mm)}; {settings.kind} is commonly"
            f" poured no thicker than {a_length(common)} at a time. If no heat left it, it would"
            f" reach {heat.most_c:.0f} °C, and it needs about {time_text(heat.cools_s)} to cool"
            f" below {LASTING_HEAT_C:.0f} °C."
        )
        found.append(Notice("resin_heat", text + _CARE))
    if settings.shell_mm > common:
        text = (
            f"A shell of {a_length(settings.shell_mm)} is thicker than the {a_length(common)}"
            f" that {settings.kind} is commonly poured: turn it in coats."
        )
        found.append(Notice("thick_shell", text + _CARE))
    if settings.kind in {EPOXY, POLYESTER} and not settings.deepest_fill_mm:
        text = (
            f"For {settings.kind} the largest pour of the data sheet counts, as a mass of it runs"
            f" away: enter it as Deepest Fill. Until then {a_length(common)} are taken."
        )
        found.append(Notice("no_fill_limit", text))
    return tuple(found)
