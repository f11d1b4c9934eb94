"""The cut: how long, where, and how its lips lock."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import TWO_HALVES_SHARE
from ..errors import NoWayForSlitError
from ..geometry.manifold import to_mesh
from ..geometry.mesh import Mesh
from .barred import crosses_marks, grounds
from .classes import in_classes
from .halfway import HalvesCut, halves_cut
from .held import missed_places, tight_places
from .oneway import SlitCut, slit_cut
from .piece import allowed_stretch
from .proof import block_of
from .result import CutResult
from .slit import start_deg
from .stretch import slit_top_mm
from .warn import cut_warnings
from .way import Ground
from .webs import Webs, webs_of

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..watch import Watch
    from .marks import Marks
    from .measure import Measured
    from .piece import Piece
    from .settings import CutSettings
    from .undercut import Split


def cut_stage(
    case: CaseResult,
    piece: Piece,
    found: Measured,
    marks: Marks,
    settings: CutSettings,
    watch: Watch,
) -> CutResult:
    """Lay out the cut that lets the piece out of the block.

    Parameters
    ----------
    case : CaseResult
        The master in its case, in the job frame.
    piece : Piece
        The same master in the scan's frame.
    found : Measured
        Of the same, in the scan's frame.
    marks : Marks
        Faces of the master that no cut may cross.
    settings : CutSettings
        What the rubber bears, where the cut may go, and the teeth.
    watch : Watch
        Told of progress.

    Returns
    -------
    CutResult
        In the job frame; of kind "none", and saying why, where marks bar every way.
    """
    allowed, piece = allowed_stretch(settings), piece.placed(case.placement)
    found = found.placed(case.placement)
    must, all_round = _slit_end_mm(case, found, settings, allowed)
    slit, refusal = _slit(case, found, must, (piece, marks), settings)
    watch.at(0.5)
    webs = Webs((), 0) if piece.simple is None else webs_of(case, piece.simple)
    watch.at(0.6)
    kind = _kind(settings, slit, piece.split, allowed, all_round=all_round)
    exactly = kind == "two halves" or piece.simple is None
    halves = _halves(case, marks, piece, allowed, settings, exactly=exactly)
    watch.at(0.75)
    ways = (*(() if slit is None else (slit.way,)), halves.way)
    result = replace(
        _uncut(found, allowed), webs=webs.webs, hairs=webs.hairs, ways=ways,
        not_here_faces=int(marks.faces.sum()),
    )  # fmt: skip
    if kind == "two halves":
        refusal = halves.refusal()
        if refusal is not None and slit is not None and settings.way == "best":
            kind, refusal = "one slit", None  # a slit that stretches far is told of, and is a cut
    chosen = halves if kind == "two halves" else slit
    if chosen is None or refusal is not None:
        return cut_warnings(result, None, settings, refusal)
    block = None if piece.solid is None else block_of(case, piece.solid, found.base_mm)
    proof, ribbon = chosen.proven(case, block, found.base_mm)
    watch.at(0.95)
    result = replace(_with_line(result, kind, chosen), proof=proof, ribbon=ribbon)
    if slit is not None:
        result = _with_slit(result, case, found, slit, settings)
    return cut_warnings(result, None if slit is None else slit.keying.bare_mm, settings)


def _uncut(found: Measured, allowed: float) -> CutResult:
    """Return what is known of the piece before any cut is laid out."""
    nowhere = np.zeros((0, 3))
    return CutResult(
        kind="none",
        slit_mm=nowhere,
        slit_length_mm=0.0,
        needed_stretch=float(np.max(found.curve.needed, initial=0.0)),
        allowed_stretch=allowed,
        zigzag_mm=nowhere,
        ribbon=Mesh(nowhere, np.zeros((0, 3), dtype=np.int64)),
        depths=(),
        curve=found.curve,
        tight=tight_places(found.rings, found.sections.heights_mm, allowed),
    )


def _with_line(result: CutResult, kind: str, chosen: SlitCut | HalvesCut) -> CutResult:
    return replace(
        result,
        kind=kind,
        slit_mm=chosen.line_mm,
        slit_length_mm=chosen.way.length_mm,
        zigzag_mm=chosen.trace_mm,
        depths=chosen.depths,
        tooth_mm=chosen.tooth_mm,
        wave_mm=chosen.wave_mm,
        pull=chosen.pull,
        parting_mm=chosen.loops_mm,
    )


def _with_slit(
    result: CutResult, case: CaseResult, found: Measured, slit: SlitCut, settings: CutSettings
) -> CutResult:
    """Return a result with what a slit comes to, whether it was chosen or is for comparison."""
    heights, allowed, curve = found.sections.heights_mm, result.allowed_stretch, found.curve
    thickness = (slit.pull if result.pull is None else result.pull).thickness_mm
    least = case.riser_mm + settings.least_slit_mm
    result = replace(
        result,
        start_deg=start_deg(case, slit.line_mm[0]),
        classes=in_classes(curve, slit.slit.arcs, least, thickness, settings),
    )
    if result.kind != "one slit":
        return result
    missed = missed_places(found.rings, heights, allowed, slit.line_mm)
    return replace(result, lips=slit.lips, missed=missed)


def _slit(
    case: CaseResult,
    found: Measured,
    must_mm: float,
    marked: tuple[Piece, Marks],
    settings: CutSettings,
) -> tuple[SlitCut | None, NoWayForSlitError | None]:
    """Return the slit, or why there is none."""
    refusal = None
    for number, ground in enumerate(grounds(case, *marked, settings)):
        try:
            slit = slit_cut(case, found, must_mm, ground, settings)
        except NoWayForSlitError as error:
            refusal = error
            continue
        on_piece = marked[0].exact or number > 0
        if on_piece or not crosses_marks(case, marked[1], slit.line_mm):
            return slit, None
    return None, refusal


def _kind(
    settings: CutSettings, slit: SlitCut | None, split: Split, allowed: float, *, all_round: bool
) -> str:
    """Return the way to open that is taken: halves where no slit is found, or none that will do."""
    if settings.way != "best":
        return "two halves" if settings.way == "halves" else "one slit"
    if slit is None or all_round:
        return "two halves"
    torn = slit.way.stretch > allowed and split.needed_stretch < slit.way.stretch
    return "two halves" if torn else "one slit"


def _halves(
    case: CaseResult,
    marks: Marks,
    piece: Piece,
    allowed: float,
    settings: CutSettings,
    *,
    exactly: bool,
) -> HalvesCut:
    """Lay out the halves, on the master as it is or for their numbers only on a simple one."""
    rough = case.master if piece.simple is None else to_mesh(piece.simple)
    mesh = case.master if exactly else rough
    barred = np.zeros(len(mesh.faces), dtype=np.bool_)
    if exactly and len(marks.faces):
        barred = marks.faces
    ground = Ground(mesh, np.ones(len(mesh.vertices)), barred)
    return halves_cut(case, ground, piece.split, allowed, settings)


def _slit_end_mm(
    case: CaseResult, found: Measured, settings: CutSettings, allowed: float
) -> tuple[float, bool]:
    """Return how high a slit must go for the rings alone, and whether that is almost to the top."""
    must = slit_top_mm(found.curve.heights_mm, found.curve.needed, allowed)
    top = float(found.sections.heights_mm[-1])
    end = min(max(must, case.riser_mm + settings.least_slit_mm), top)
    return end, must - case.riser_mm > TWO_HALVES_SHARE * (top - case.riser_mm)
