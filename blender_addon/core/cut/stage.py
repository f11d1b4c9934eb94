"""The cut: how long, where, and how its lips lock."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import KNIFE_STEP_MM, THIN_SKIN_MM, TWO_HALVES_SHARE
from ..errors import UnusableMeshError
from ..notices import Notice
from ..units import length_text
from .keying import keyed_slit
from .measure import measured
from .opening import pull_at
from .proof import Proof, prove_slit
from .result import CutResult, KnifeDepth
from .slit import find_slit
from .stretch import slit_top_mm, tight_places

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..watch import Watch
    from .keying import Keying
    from .marks import Marks
    from .measure import Measured
    from .settings import CutSettings


def cut_stage(case: CaseResult, marks: Marks, settings: CutSettings, watch: Watch) -> CutResult:
    """Lay out the cut that lets the piece out of the block.

    Parameters
    ----------
    case : CaseResult
        The master in its case, in the job frame.
    marks : Marks
        Faces of the master that no cut may cross.
    settings : CutSettings
        What the rubber bears, where the cut may go, and the teeth.
    watch : Watch
        Told of progress.

    Returns
    -------
    CutResult
        In the job frame.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way from the base up.
    """
    allowed = settings.elongation_percent * settings.safe_share_percent / 1e4
    found = measured(case, settings)
    watch.at(0.3)
    most = float(np.max(found.curve.needed))
    top, kind = _slit_end_mm(case, found, settings, allowed)
    slit = find_slit(case, found, top, marks, settings)
    watch.at(0.6)
    keying = keyed_slit(slit.blade, found.sections, case.bore, settings)
    line = slit.blade.points_mm
    on_piece = _on_piece(line, found.base_mm, float(case.master.bounds[0][2]))
    depths = case.bore.reaches_mm(line[:, :2], slit.blade.ways)
    tight = tight_places(found.rings, found.sections.heights_mm, allowed)
    watch.at(0.8)
    return CutResult(
        kind=kind,
        slit_mm=on_piece,
        slit_length_mm=float(np.linalg.norm(np.diff(on_piece, axis=0), axis=1).sum()),
        needed_stretch=most,
        allowed_stretch=allowed,
        zigzag_mm=keying.rows[:, -1],
        ribbon=keying.ribbon,
        depths=_knife_depths(line, depths),
        warnings=_warnings(kind, keying, most, allowed),
        tooth_mm=keying.tooth_mm,
        wave_mm=keying.wave_mm,
        curve=found.curve,
        tight=tight,
        pull=pull_at(found.curve, top, float(depths[-1]), settings),
        proof=_proof(case, keying, found.base_mm),
    )


def _slit_end_mm(
    case: CaseResult, found: Measured, settings: CutSettings, allowed: float
) -> tuple[float, str]:
    heights = found.curve.heights_mm
    must = slit_top_mm(heights, found.curve.needed, allowed)
    top = float(found.sections.heights_mm[-1])
    if must - case.riser_mm > TWO_HALVES_SHARE * (top - case.riser_mm):
        return top, "two halves"
    return min(max(must, case.riser_mm + settings.least_slit_mm), top), "one slit"


def _on_piece(line: Floats, base_mm: float, low_mm: float) -> Floats:
    """Return the part of a line that is on the piece; on a flat base it begins at the base."""
    kept = line[line[:, 2] >= base_mm].copy()
    if kept[0, 2] - low_mm < THIN_SKIN_MM:
        kept[0, 2] = low_mm
    return kept


def _proof(case: CaseResult, keying: Keying, base_mm: float) -> Proof | None:
    """Cut the block, unless the scan crosses itself in a way that leaves no block to cut."""
    try:
        return prove_slit(case, keying.rows, keying.into_mm, base_mm)
    except UnusableMeshError:
        return None


def _knife_depths(line: Floats, depth: Floats) -> tuple[KnifeDepth, ...]:
    z = line[:, 2]
    told = np.arange(0.0, z[-1] + 1e-9, KNIFE_STEP_MM)
    at = np.minimum(np.searchsorted(z, told), len(z) - 1)
    return tuple(KnifeDepth(float(a), float(b)) for a, b in zip(told, depth[at], strict=True))


def _warnings(kind: str, keying: Keying, needed: float, allowed: float) -> tuple[Notice, ...]:
    found = []
    if kind == "two halves":
        text = (
            f"The rubber would have to stretch by up to {needed:.0%}, and by more than the safe"
            f" {allowed:.0%} almost up to the top: a slit does not let the piece out. Cut the block"
            " in two halves: up the back as drawn, over the top, and down the front."
        )
        found.append(Notice("two_halves", text))
    if keying.bare_mm is not None:
        low, high = (length_text(z) for z in keying.bare_mm)
        text = (
            f"The rubber at the cut is too thin for teeth from {low} to {high} above the board: cut"
            " it straight there. More Rubber at the Cut, a smaller Tooth or a shorter Straight Part"
            " makes room."
        )
        found.append(Notice("no_teeth", text))
    return tuple(found)
