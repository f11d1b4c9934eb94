"""How warm a fill can get, how deep it may be, and how long to wait for the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..catalog.sheets import EPOXY, POLYESTER
from ..constants.resin import FILL_DEEP_MM, LASTING_HEAT_C, RESIN_DIFFUSIVITY_MM2_S
from ..notices import Notice
from ..units import length_text, mass_text, time_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .result import Fill
    from .settings import ResinSettings

_CARE = (
    " Mixed resin heats up, more in thick pours: let each fill gel and cool before the next, and"
    " follow the limits of its data sheet."
)


@dataclass(frozen=True)
class Heat:
    """``most_c`` is what no fill gets hotter than, by ``rise_k`` if no heat leaves it at all.

    ``deepest_mm`` is the deepest fill, ``limit_mm`` what its class or data sheet allows, and
    ``cools_s`` about how long heat takes to leave that depth.
    """

    rise_k: float
    most_c: float
    deepest_mm: float
    limit_mm: float
    cools_s: float


def fill_limit_mm(settings: ResinSettings) -> float:
    """Return how deep one fill may be: as the data sheet says, or what is common for the class.

    Examples
    --------
    >>> from blender_addon.core.resin.settings import ResinSettings
    >>> fill_limit_mm(ResinSettings()), fill_limit_mm(ResinSettings(deepest_fill_mm=60.0))
    (25.0, 60.0)
    """
    return settings.deepest_fill_mm or FILL_DEEP_MM[settings.kind]


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
    thick = max((fill.deep_mm for fill in fills), default=settings.shell_mm)
    return Heat(
        rise_k=settings.rise_k,
        most_c=settings.room_c + settings.rise_k,
        deepest_mm=thick,
        limit_mm=fill_limit_mm(settings),
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
    common = FILL_DEEP_MM[settings.kind]
    if fills and heat.deepest_mm > common * (1.0 + 1e-6):
        heaviest = max(fill.g for fill in fills)
        text = (
            f"One fill of {mass_text(heaviest)} is {length_text(heat.deepest_mm)} deep;"
            f" {settings.kind} is commonly filled no deeper than {length_text(common)} at a time."
            f" If no heat left it, it would reach {heat.most_c:.0f} °C, and it needs about"
            f" {time_text(heat.cools_s)} to cool below {LASTING_HEAT_C:.0f} °C."
        )
        found.append(Notice("resin_heat", text + _CARE))
    if settings.shell_mm > common:
        text = (
            f"A shell of {length_text(settings.shell_mm)} is thicker than the {length_text(common)}"
            f" that {settings.kind} is commonly poured: turn it in coats."
        )
        found.append(Notice("thick_shell", text + _CARE))
    if settings.kind in {EPOXY, POLYESTER} and not settings.deepest_fill_mm:
        text = (
            f"For {settings.kind} the largest pour of the data sheet counts, as a mass of it runs"
            f" away: enter it as Deepest Fill. Until then {length_text(common)} are taken."
        )
        found.append(Notice("no_fill_limit", text))
    return tuple(found)
