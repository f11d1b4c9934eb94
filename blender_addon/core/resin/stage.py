"""The copy in resin: how much it takes, its shell, and how it is filled."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import G_PER_KG
from ..constants.resin import FINE_STEP_MM, HOLLOW_LEAST_ML, OVERLAP_SHARE, SHELL_ERROR_SHARE
from ..geometry.solid import enclosed_volume_ml
from ..notices import Notice
from ..rubber.weigh import batches_in, coarse_scale
from ..sentences import Sentence, a_length
from ..units import KG_M3_TO_G_ML, volume_text
from .coat import shell_table
from .copy import copy_of
from .fills import fill_table, staged_fills
from .heat import fill_limits, heat_notices, heat_of
from .opening import Opening, opening_size
from .reading import cavity_table, leaning_of, still_to_fill_ml
from .result import Fill, ResinResult
from .settings import HOLLOW
from .shrinkage import RESIN, riser_notices, sculpt_of, shrinkage_of
from .why import why_fills

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..rubber.weigh import Batch
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .heat import Heat
    from .settings import ResinSettings
    from .shell import Cavity
    from .shrinkage import ShrinkStep


@dataclass(frozen=True, eq=False)
class _Filled:
    """Shell and fills of one copy, all together ``copy_ml``."""

    copy_ml: float
    cavity: Cavity
    shell_ml: float
    coats: tuple[Batch, ...]
    fills: tuple[Fill, ...]
    opening: Opening
    table: Floats
    because: Sentence

    @property
    def hollow_ml(self) -> float:
        """What stays empty; the grid's error is not told as such."""
        left = self.copy_ml - self.shell_ml - sum(fill.ml for fill in self.fills)
        return left if left > SHELL_ERROR_SHARE * self.copy_ml else 0.0


def resin_stage(
    scan: ScanResult, cavity: Cavity, rubber_percent: float, settings: ResinSettings, watch: Watch
) -> ResinResult:
    """Work out the resin for one copy.

    Parameters
    ----------
    scan : ScanResult
        The master on its riser.
    cavity : Cavity
        What the shell leaves open, of the same scan and shell.
    rubber_percent : float
        How much smaller than the clay the cured mold is, in length.
    settings : ResinSettings
        The resin, the shell and the heaviest fill.
    watch : Watch
        Told of progress.

    Returns
    -------
    ResinResult
        Shell, fills and what is left hollow together are the copy.
    """
    density_g_ml = settings.density_kg_m3 * KG_M3_TO_G_ML
    copy = copy_of(scan).mesh
    table = fill_table(copy)
    watch.at(0.9)
    filled = _filled(scan, cavity, enclosed_volume_ml(copy), settings)
    needs_g = (filled.copy_ml - filled.hollow_ml) * density_g_ml
    sanded_ml = still_to_fill_ml(table, scan.riser_mm)
    heat = heat_of(filled.fills, settings)
    steps = shrinkage_of(scan.size_mm, rubber_percent, settings)
    leaning = None
    if settings.lean_deg:
        leaning = leaning_of(
            copy, scan, filled.cavity, settings.lean_deg, settings.lean_towards_deg
        )
    return ResinResult(
        copy_ml=filled.copy_ml,
        copy_g=filled.copy_ml * density_g_ml,
        shell_ml=filled.shell_ml,
        shell_g=filled.shell_ml * density_g_ml,
        fills=filled.fills,
        fills_because=filled.because,
        fill_table=table,
        cavity_table=filled.table,
        shell_table=shell_table(filled.cavity, filled.shell_ml),
        coats=filled.coats,
        hollow_ml=filled.hollow_ml,
        needs_g=needs_g,
        cost=settings.price_per_kg * needs_g / G_PER_KG if settings.price_per_kg else None,
        true_base_mm_below_rim=scan.riser_mm,
        sanded_ml=sanded_ml,
        sanded_g=sanded_ml * density_g_ml,
        opening=filled.opening,
        heat=heat,
        shrinkage=steps,
        sculpt=sculpt_of(steps[-1], settings),
        cavity=filled.cavity,
        leaning=leaning,
        warnings=_notices(filled, heat, steps, scan, settings),
    )


def _notices(
    filled: _Filled,
    heat: Heat,
    steps: tuple[ShrinkStep, ...],
    scan: ScanResult,
    settings: ResinSettings,
) -> tuple[Notice, ...]:
    copy = next(one for one in steps if one.name == RESIN)
    return (
        *heat_notices(heat, filled.fills, settings),
        *_of_shape(filled, settings),
        *coarse_scale(filled.coats, settings, settings.scale_step_g),
        *riser_notices(scan.size_mm[2], copy, scan.riser_mm),
    )


def _filled(scan: ScanResult, cavity: Cavity, copy_ml: float, settings: ResinSettings) -> _Filled:
    """Share the copy out in coats of the shell, fills, and what stays hollow."""
    density_g_ml = settings.density_kg_m3 * KG_M3_TO_G_ML
    cavity_ml = min(cavity.total_ml, copy_ml)
    if cavity_ml <= SHELL_ERROR_SHARE * copy_ml:
        cavity_ml, cavity = 0.0, replace(cavity, cells=cavity.cells[:0])
    cavity = replace(cavity, total_ml=cavity_ml)
    shell_ml = copy_ml - cavity_ml
    coats = _coats(shell_ml * density_g_ml, settings)
    fine, _ = cavity_table(cavity, step_mm=FINE_STEP_MM)
    area_cm2, across_mm = opening_size(scan.riser_outline, settings.shell_mm)
    plug_ml = still_to_fill_ml(fine, settings.plug_mm)
    opening = Opening(area_cm2, across_mm, plug_ml, plug_ml * density_g_ml)
    limits = fill_limits(settings, cavity.widths)
    if settings.inside == HOLLOW:
        fine = np.vstack([fine[fine[:, 0] < settings.plug_mm], [settings.plug_mm, plug_ml]])
    fills = staged_fills(fine, limits, settings, settings.scale_step_g) if cavity_ml else ()
    because = why_fills(len(fills), fine, cavity.widths, settings)
    table, _ = cavity_table(cavity)
    return _Filled(copy_ml, cavity, shell_ml, coats, fills, opening, table, because)


def _coats(shell_g: float, settings: ResinSettings) -> tuple[Batch, ...]:
    """Return the mixes of the shell: one a coat, and more where one would be too heavy."""
    by_coat = math.ceil(settings.shell_mm / settings.coat_mm - 1e-9)
    by_mass = math.ceil(shell_g / settings.stage_g)
    return batches_in(shell_g, max(by_coat, by_mass), settings, settings.scale_step_g)


def _of_shape(filled: _Filled, settings: ResinSettings) -> tuple[Notice, ...]:
    found, cavity = [], filled.cavity
    if not filled.fills:
        text = (
            f"A shell of {a_length(settings.shell_mm)} fills the whole piece: it is cast solid,"
            " in one go if that is light enough."
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
    if cavity.miscounted_ml > OVERLAP_SHARE * filled.copy_ml:
        text = (
            f"The surface of the scan crosses itself: about {volume_text(cavity.miscounted_ml)} of"
            " copy and rubber are counted wrong. Join it into one surface for exact amounts."
        )
        found.append(Notice("overlap", text))
    return tuple(found)
