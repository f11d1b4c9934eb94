"""The copy in resin: how much it takes, its shell, and how it is filled."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from ..constants import FILL_DEEP_MM, HOLLOW_LEAST_ML, OVERLAP_SHARE, SHELL_ERROR_SHARE
from ..geometry.solid import enclosed_volume_ml
from ..notices import Notice
from ..units import KG_M3_TO_G_ML, length_text, mass_text, volume_text
from .copy import copy_of
from .fills import fill_table, staged_fills
from .result import ResinResult
from .shell import cavity_in

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .result import Fill
    from .settings import ResinSettings
    from .shell import Cavity

_CARE = (
    " Mixed resin heats up, more in thick pours: let each fill gel and cool before the next, and"
    " follow the limits of its data sheet."
)


def resin_stage(scan: ScanResult, settings: ResinSettings, watch: Watch) -> ResinResult:
    """Work out the resin for one copy.

    Parameters
    ----------
    scan : ScanResult
        The master on its riser.
    settings : ResinSettings
        The resin, the shell and the heaviest fill.
    watch : Watch
        Told of progress.

    Returns
    -------
    ResinResult
        Shell and fills together are the copy.
    """
    density_g_ml = settings.density_kg_m3 * KG_M3_TO_G_ML
    copy = copy_of(scan)
    copy_ml = enclosed_volume_ml(copy.mesh)
    table = fill_table(copy.mesh)
    watch.at(0.1)
    cavity = cavity_in(scan, settings.shell_mm, watch)
    cavity_ml = min(cavity.total_ml, copy_ml)
    fills: tuple[Fill, ...] = ()
    if cavity_ml > SHELL_ERROR_SHARE * copy_ml:
        fills = staged_fills(
            cavity_ml, cavity.layers_ml, cavity.levels_mm, density_g_ml, settings.stage_g
        )
    shell_ml = copy_ml - sum(fill.ml for fill in fills)
    return ResinResult(
        copy_ml=copy_ml,
        copy_g=copy_ml * density_g_ml,
        shell_ml=shell_ml,
        shell_g=shell_ml * density_g_ml,
        fills=fills,
        fill_table=table,
        warnings=(
            *_of_heat(fills, shell_ml * density_g_ml, float(table[-1, 0]), settings),
            *_of_shape(cavity, fills, copy_ml, settings.shell_mm),
        ),
    )


def _of_heat(
    fills: tuple[Fill, ...], shell_g: float, deepest_mm: float, settings: ResinSettings
) -> tuple[Notice, ...]:
    found = []
    if shell_g > settings.stage_g:
        text = (
            f"The shell weighs {mass_text(shell_g)}, more than one fill of"
            f" {mass_text(settings.stage_g)}: turn it in coats, or make it thinner." + _CARE
        )
        found.append(Notice("heavy_shell", text))
    levels = [deepest_mm, *(fill.to_mm_below_rim for fill in fills)]
    deep = max((a - b for a, b in pairwise(levels)), default=0.0)
    if len(fills) > 1 or deep > FILL_DEEP_MM:
        each = "One fill" if len(fills) == 1 else f"{len(fills)} fills"
        text = (
            f"{each} of {mass_text(fills[0].g)}, up to {length_text(deep)} deep, after the shell."
            f" Fast resin is commonly filled no deeper than {length_text(FILL_DEEP_MM)} at a time."
        )
        found.append(Notice("resin_heat", text + _CARE))
    return tuple(found)


def _of_shape(
    cavity: Cavity, fills: tuple[Fill, ...], copy_ml: float, shell_mm: float
) -> tuple[Notice, ...]:
    found = []
    if not fills:
        text = (
            f"A shell of {length_text(shell_mm)} fills the whole piece: it is cast solid, in one go"
            " if that is light enough."
        )
        found.append(Notice("no_cavity", text))
    elif cavity.cut_off_ml > HOLLOW_LEAST_ML:
        text = (
            f"The shell closes narrow places before {volume_text(cavity.cut_off_ml)} behind them"
            " are filled: they stay hollow. Fill those parts first, or make the shell thinner."
        )
        found.append(Notice("cut_off", text))
    if cavity.hollow_ml > HOLLOW_LEAST_ML:
        text = (
            f"About {volume_text(cavity.hollow_ml)} inside the piece or under its base are closed"
            " off from the rubber and not counted: the copy takes so much more. Fill the hollow in"
            " the clay, or delete its inner surface from the scan."
        )
        found.append(Notice("hollow", text))
    if cavity.twice_ml > OVERLAP_SHARE * copy_ml:
        text = (
            f"Pieces of the scan overlap: about {volume_text(cavity.twice_ml)} of the copy are"
            " counted twice. Join the pieces into one surface for exact amounts."
        )
        found.append(Notice("overlap", text))
    return tuple(found)
