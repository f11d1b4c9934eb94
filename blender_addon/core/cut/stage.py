"""The cut: how long, where, and how its lips lock."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from ..errors import NoWayForSlitError
from ..geometry.manifold import to_mesh
from ..geometry.mesh import Mesh
from .barred import crosses_marks, grounds
from .block import block_of
from .choice import choose, eased, slit_end_mm
from .classes import in_classes
from .halfway import HalvesCut, halves_cut
from .held import missed_places, tight_places
from .oneway import SlitCut, slit_cut
from .opening import most_suction_n
from .piece import allowed_stretch
from .result import CutResult
from .slit import Lines
from .start import start_deg
from .warn import cut_warnings
from .way import Ground

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..watch import Watch
    from .marks import Marks
    from .measure import Measured
    from .piece import Piece
    from .settings import CutSettings
    from .undercut import Split
    from .webs import Webs


def cut_stage(
    case: CaseResult,
    piece: Piece,
    webs: Webs,
    split: Split,
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
    webs : Webs
        In its through-holes, in the same frame.
    split : Split
        How two halves come off it best, in the same frame.
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
    found, split = found.placed(case.placement), split.placed(case.placement)
    webs = webs.placed(case.placement)
    slits, refusal = _slits(case, found, (piece, marks), settings)
    watch.at(0.6)
    kind, why = choose(case, found, slits, split, settings)
    exactly = kind == "two halves" or piece.simple is None
    halves = _halves(case, (piece, split), marks, settings, exactly=exactly)
    watch.at(0.75)
    slit = None if slits is None else slits[1]
    ways = (*(() if slit is None else (slit.way,)), halves.way)
    result = replace(
        _uncut(found, allowed), webs=webs.webs, hairs=webs.hairs, ways=ways,
        not_here_faces=int(marks.faces.sum()),
    )  # fmt: skip
    if kind == "two halves":
        refusal = halves.refusal()
        if refusal is not None and slit is not None and settings.way == "best":
            kind, why, refusal = "one slit", None, None  # a slit that is hard to open is a cut
    chosen = halves if kind == "two halves" else slit
    if chosen is None or refusal is not None:
        return cut_warnings(result, None, refusal=refusal)
    block = None if piece.solid is None else block_of(case, piece.solid, found.base_mm)
    proof, ribbon = chosen.proven(case, block, found.base_mm)
    watch.at(0.95)
    result = replace(_with_line(result, case, kind, chosen), proof=proof, ribbon=ribbon)
    if slit is not None:
        result = _with_slit(result, case, found, slit, settings)
    return cut_warnings(result, None if slit is None else slit.keying.bare_mm, why)


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


def _with_line(
    result: CutResult, case: CaseResult, kind: str, chosen: SlitCut | HalvesCut
) -> CutResult:
    return replace(
        result,
        kind=kind,
        slit_mm=chosen.line_mm,
        slit_length_mm=chosen.way.length_mm,
        zigzag_mm=chosen.trace_mm,
        depths=chosen.depths,
        tooth_mm=chosen.tooth_mm,
        wave_mm=chosen.wave_mm,
        pull=replace(chosen.pull, suction_n=most_suction_n(case.master)),
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


def _slits(
    case: CaseResult, found: Measured, marked: tuple[Piece, Marks], settings: CutSettings
) -> tuple[tuple[SlitCut, SlitCut] | None, NoWayForSlitError | None]:
    """Return the shortest slit and the one to take for it, or why there is none."""
    piece, marks = marked
    must, _ = slit_end_mm(case, found, settings)
    refusal = None
    for number, ground in enumerate(grounds(case, piece, marks, settings)):
        try:
            slit = slit_cut(Lines(case, found, ground, settings), must, settings)
        except NoWayForSlitError as error:
            refusal = error
            continue
        exact = piece.exact or number > 0
        if not exact and crosses_marks(case, marks, slit.line_mm):
            continue
        longer = eased(slit, settings) if settings.way == "best" else None
        if longer is None or not (exact or not crosses_marks(case, marks, longer.line_mm)):
            longer = slit
        return (slit, longer), None
    return None, refusal


def _halves(
    case: CaseResult,
    parted: tuple[Piece, Split],
    marks: Marks,
    settings: CutSettings,
    *,
    exactly: bool,
) -> HalvesCut:
    """Lay out the halves, on the master as it is or for their numbers only on a simple one."""
    piece, split = parted
    rough = case.master if piece.simple is None else to_mesh(piece.simple)
    mesh = case.master if exactly else rough
    barred = np.zeros(len(mesh.faces), dtype=np.bool_)
    if exactly and len(marks.faces):
        barred = marks.faces
    ground = Ground(mesh, np.ones(len(mesh.vertices)), barred)
    return halves_cut(case, ground, split, allowed_stretch(settings), settings)
