"""The cut: how long, where, and how its lips lock."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import TWO_HALVES_SHARE
from ..errors import NoWayForSlitError
from ..geometry.manifold import to_mesh
from .classes import in_classes
from .costs import costs
from .halfway import HalvesCut, halves_cut
from .oneway import SlitCut, slit_cut
from .piece import allowed_stretch
from .proof import block_of
from .result import CutResult
from .slit import start_deg
from .stretch import slit_top_mm, tight_places
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
        In the job frame.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way.
    """
    allowed, piece = allowed_stretch(settings), piece.placed(case.placement)
    solid, simple = piece.solid, piece.simple
    found = found.placed(case.placement)
    top, kind = _slit_end_mm(case, found, settings, allowed)
    ground = _ground(case, piece, marks, settings)
    slit, kind = _slit(case, found, top, ground, settings, kind)
    watch.at(0.5)
    webs = Webs((), 0) if simple is None else webs_of(case, simple)
    watch.at(0.6)
    exactly = kind == "two halves" or simple is None
    halves = _halves(case, marks, piece, allowed, settings, exactly=exactly)
    watch.at(0.75)
    chosen: SlitCut | HalvesCut = halves if slit is None or kind == "two halves" else slit
    chosen.refuse_marks()
    block = None if solid is None else block_of(case, solid, found.base_mm)
    proof, ribbon = chosen.proven(case, block, found.base_mm)
    watch.at(0.95)
    tight = tight_places(found.rings, found.sections.heights_mm, allowed)
    result = CutResult(
        kind=kind,
        slit_mm=chosen.line_mm,
        slit_length_mm=chosen.way.length_mm,
        needed_stretch=float(np.max(found.curve.needed)),
        allowed_stretch=allowed,
        zigzag_mm=chosen.trace_mm,
        ribbon=ribbon,
        depths=chosen.depths,
        tooth_mm=chosen.tooth_mm,
        wave_mm=chosen.wave_mm,
        curve=found.curve,
        tight=tight,
        pull=chosen.pull,
        proof=proof,
        webs=webs.webs,
        hairs=webs.hairs,
        ways=(*(() if slit is None else (slit.way,)), halves.way),
        parting_mm=halves.loops_mm if kind == "two halves" else (),
        classes=in_classes(
            found.curve,
            case.riser_mm + settings.least_slit_mm,
            chosen.pull.thickness_mm,
            settings,
        ),
        start_deg=0.0 if slit is None else start_deg(case, slit.line_mm[0]),
    )
    return cut_warnings(result, None if slit is None else slit.keying.bare_mm, settings)


def _slit(
    case: CaseResult,
    found: Measured,
    top_mm: float,
    ground: Ground,
    settings: CutSettings,
    kind: str,
) -> tuple[SlitCut | None, str]:
    """Return the slit and the way to open; where marks bar every slit, halves if they will do."""
    try:
        return slit_cut(case, found, top_mm, ground, settings), kind
    except NoWayForSlitError:
        if settings.way == "slit":
            raise
        return None, "two halves"


def _ground(case: CaseResult, piece: Piece, marks: Marks, settings: CutSettings) -> Ground:
    """Return what the way is looked for on."""
    given = piece.given
    barred = marks.faces[given] if len(marks.faces) else np.zeros(len(given), dtype=np.bool_)
    ground = Ground(piece.fine, costs(piece.fine, case, settings), barred, piece.links)
    if not barred.any():
        return ground
    rim = ground.barred_vertices[piece.fine.faces].any(axis=1)  # or a line would cut their corners
    return replace(ground, barred=rim)


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
) -> tuple[float, str]:
    """Return how high a slit must go, and which way to open is taken."""
    must = slit_top_mm(found.curve.heights_mm, found.curve.needed, allowed)
    top = float(found.sections.heights_mm[-1])
    end = min(max(must, case.riser_mm + settings.least_slit_mm), top)
    all_round = must - case.riser_mm > TWO_HALVES_SHARE * (top - case.riser_mm)
    if settings.way == "halves" or (settings.way == "best" and all_round):
        return end, "two halves"
    return end, "one slit"
