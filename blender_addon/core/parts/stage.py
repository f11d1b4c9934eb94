"""The parts stage: case, board and funnel as solids to print."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from ..case.bore import Bore
from ..constants.parts import DUSTS_MM
from ..errors import OpenPartError, UnusableMeshError
from ..geometry.convex import cleaned
from ..geometry.manifold import to_mesh, to_solid
from ..notices import Notice
from .arrange import arranged
from .bed import bed_of
from .board import base_board
from .case import case_pieces
from .check import as_filed, checked_part, refuse_empty
from .flanges import refuse_flanges
from .funnel import funnel_solid
from .hold import hold_of
from .larger import larger_notices
from .pose import pose_of
from .result import AS_IT_STANDS, UPSIDE_DOWN, PartsResult
from .split import split_of
from .tiles import board_tiles

if TYPE_CHECKING:
    import manifold3d

    from ..case.result import CaseResult
    from ..funnel.result import FunnelResult
    from ..rubber.result import Forces
    from ..watch import Watch
    from .bed import Bed
    from .result import Part
    from .settings import PartsSettings
    from .split import Split


def parts_stage(
    case: CaseResult,
    funnel: FunnelResult,
    forces: Forces,
    settings: PartsSettings,
    watch: Watch,
) -> PartsResult:
    """Return every part to print; the pieces of the case also where a stock tube would do.

    Parameters
    ----------
    case : CaseResult
        The tube, its height and the riser's outline.
    funnel : FunnelResult
        The funnel's measures.
    forces : Forces
        What the rubber does to the case: the flanges are held for it.
    settings : PartsSettings
        Clearances, board, flanges, bolts and the print bed.
    watch : Watch
        Told of progress.

    Returns
    -------
    PartsResult
        Each part lies as it is printed, without supports, turned to fit the bed.

    Raises
    ------
    BadSettingError
        If flanges, bolts or grooves do not fit the case.
    OpenPartError
        If a part is not one closed solid.
    """
    case = _with_clean_bore(case)
    split = split_of(case, settings)
    for seam in split.seams:
        refuse_flanges(case, seam.wall_mm, settings)
    hold = hold_of(case, forces, split, settings)
    pieces = case_pieces(case, split, hold.heights_mm, settings)
    watch.at(0.4)
    solids = [(one.name, "case", one.solid, UPSIDE_DOWN) for one in pieces]
    for name, tile in board_tiles(base_board(case, settings), settings):
        solids.append((name, "base", tile, AS_IT_STANDS))
    watch.at(0.6)
    spout = funnel_solid(case, funnel, settings, split.seams)
    solids.append(("funnel", "funnel", spout, UPSIDE_DOWN))
    parts = tuple(_part(*solid, settings) for solid in solids)
    watch.at(0.9)
    bed = bed_of(settings)
    return PartsResult(parts, hold, _notices(case, split, parts, bed), arranged(parts, bed))


def _with_clean_bore(case: CaseResult) -> CaseResult:
    if case.bore.is_round:
        return case
    return replace(case, bore=Bore(cleaned(case.bore.outline_mm)))


def _part(
    name: str, role: str, solid: manifold3d.Manifold, lies: str, settings: PartsSettings
) -> Part:
    """Return a part whose dust is flattened: a little more of it where needles are left."""
    *finer, coarsest = DUSTS_MM
    for dust_mm in finer:
        with suppress(OpenPartError, UnusableMeshError):
            return _without_dust(name, role, solid, lies, dust_mm, settings)
    return _without_dust(name, role, solid, lies, coarsest, settings)


def _without_dust(
    name: str,
    role: str,
    solid: manifold3d.Manifold,
    lies: str,
    dust_mm: float,
    settings: PartsSettings,
) -> Part:
    """Flatten dust twice: rounded as a file rounds it, what was no needle may be one."""
    made = to_mesh(solid.simplify(dust_mm))
    refuse_empty(name, made)
    rounded = to_solid(as_filed(made))
    placed, bed = to_mesh(rounded.simplify(dust_mm)), bed_of(settings)
    pose = pose_of(name, placed, lies, bed, must_fit=False)  # told of; all else still stands
    return checked_part(name, role, placed, pose, lies, bed)


def _notices(
    case: CaseResult, split: Split, parts: tuple[Part, ...], bed: Bed
) -> tuple[Notice, ...]:
    found = larger_notices(parts, bed, len(split.seams), split.rings)
    count = len(split.seams) * split.rings
    if count > 2:
        fits = all(part.fits_bed for part in parts if part.role == "case")
        why = ", so that each fits the print bed" if fits else ""
        high = f", {split.rings} on each other" if split.rings > 1 else ""
        text = (
            f"The case is printed in {count} pieces{why}: {len(split.seams)} round{high}. Every"
            " seam can leak: wax them all, and test the closed case with water before the pour."
        )
        if case.kind == "stock tube":
            text += " With the tube itself at hand you need none of them."
        found.append(Notice("split_case", text))
    found += [
        Notice(
            "needs_supports",
            f"The {part.name} hangs over too far to print without supports. Print it with supports"
            " or change its sizes.",
        )
        for part in parts
        if not part.overhang.prints_without_supports
    ]
    return tuple(found)
