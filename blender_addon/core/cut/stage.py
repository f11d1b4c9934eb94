"""The cut: how long, where, and how its lips lock."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import GIRTH_CELLS, KNIFE_STEP_MM, TWO_HALVES_SHARE
from ..geometry.girth import girths_mm
from ..geometry.sections import Sections, horizontal_sections, section_heights_mm
from ..notices import Notice
from ..units import length_text
from .keying import keyed_slit
from .path import back_points_mm, on_riser, ring_of, seam_top_mm
from .result import CutResult, KnifeDepth
from .stretch import needed_stretches, slit_top_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..watch import Watch
    from .keying import Keying
    from .settings import CutSettings


def cut_stage(case: CaseResult, settings: CutSettings, watch: Watch) -> CutResult:
    """Lay out the slit that lets the piece out of the block.

    Parameters
    ----------
    case : CaseResult
        The master in its case, in the job frame; the slit runs at its back (+y).
    settings : CutSettings
        What the rubber bears, and the teeth.
    watch : Watch
        Told of progress.

    Returns
    -------
    CutResult
        In the job frame.
    """
    allowed = settings.elongation_percent * settings.safe_share_percent / 1e4
    heights = _heights_mm(case, settings)
    own = horizontal_sections(case.master, heights)
    watch.at(0.3)
    ring = ring_of(case.riser_outline)
    girths, base_mm = _girths_mm(own, ring, case.riser_mm)
    watch.at(0.7)
    on_piece = heights > case.riser_mm
    needed = needed_stretches(girths[on_piece])
    most = float(np.max(needed))
    top, kind = _slit_end_mm(case, heights[on_piece], needed, settings.least_slit_mm, allowed)
    sections = on_riser(own, ring, base_mm)
    back = back_points_mm(sections, case.channel_at_mm[0])
    if base_mm <= heights[on_piece][0]:
        back[on_piece.argmax(), 2] = base_mm = case.master.bounds[0][2]  # the flat base itself
    path = back[(heights <= top) & np.isfinite(back).all(axis=1)]
    slit = path[path[:, 2] >= base_mm]
    keying = keyed_slit(path, sections, case.inner_diameter_mm / 2.0, settings)
    return CutResult(
        kind=kind,
        slit_mm=slit,
        slit_length_mm=float(np.linalg.norm(np.diff(slit, axis=0), axis=1).sum()),
        needed_stretch=most,
        allowed_stretch=allowed,
        zigzag_mm=keying.trace_mm,
        ribbon=keying.ribbon,
        depths=_knife_depths(path, case.inner_diameter_mm / 2.0),
        warnings=_warnings(kind, keying, most, allowed),
    )


def _heights_mm(case: CaseResult, settings: CutSettings) -> Floats:
    """Return where to measure: at ledges, at the corners of the teeth, where the knife is told."""
    own = section_heights_mm(case.master, GIRTH_CELLS)
    corners = np.arange(0.0, own[-1], settings.tooth_mm / 4.0)
    told = np.arange(0.0, own[-1], KNIFE_STEP_MM)
    least = np.array([case.riser_mm + settings.least_slit_mm])
    heights = np.unique(np.concatenate([own, corners, told, least]))
    kept: Floats = heights[(heights < case.riser_mm) | ((heights >= own[0]) & (heights <= own[-1]))]
    return kept


def _girths_mm(own: Sections, ring: Floats, riser_mm: float) -> tuple[Floats, float]:
    """Return the girths of the piece sealed on its riser, and up to where the seal goes."""
    girths = girths_mm(own)
    if not len(ring):
        return girths, riser_mm
    below = Sections(own.heights_mm[:1], np.zeros(len(ring), dtype=np.int64), ring)
    riser_girth = float(girths_mm(below)[0])
    top = seam_top_mm(own.heights_mm, girths, riser_girth, riser_mm)
    return np.where(own.heights_mm < top, np.maximum(girths, riser_girth), girths), top


def _slit_end_mm(
    case: CaseResult, heights: Floats, needed: Floats, least: float, allowed: float
) -> tuple[float, str]:
    must = slit_top_mm(heights, needed, allowed)
    top = float(heights[-1])
    if must - case.riser_mm > TWO_HALVES_SHARE * (top - case.riser_mm):
        return top, "two halves"
    return min(max(must, case.riser_mm + least), top), "one slit"


def _knife_depths(path: Floats, outer_radius_mm: float) -> tuple[KnifeDepth, ...]:
    x, y, z = path.T
    depth = np.sqrt(np.maximum(outer_radius_mm**2 - x**2, 0.0)) - y
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
