"""The job, one line a stage. Read this first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .bubbles.brush import brush_stage
from .bubbles.paint import NO_PAINT, Paint
from .bubbles.stage import bubbles_stage
from .case.stage import case_stage
from .case.stock import stock_of
from .cut.marks import NO_MARKS, Marks, marks_on_master
from .cut.measure import measured
from .cut.piece import allowed_stretch, piece_of, split_of
from .cut.stage import cut_stage
from .cut.webs import webs_of
from .funnel.stage import funnel_stage
from .layout import Layout
from .memo import Memo
from .parts.guide_stage import guide_stage
from .parts.stage import parts_stage
from .resin.shell import cavity_in
from .resin.stage import resin_stage
from .rubber.pots import pots_of
from .rubber.stage import room_stage, rubber_stage
from .scan.stage import scan_stage
from .sheet.stage import sheet_stage
from .watch import Watch

if TYPE_CHECKING:
    from .geometry.mesh import Mesh
    from .settings import Settings

STAGES = ("Scan", "Bubbles", "Case", "Funnel", "Cut", "Rubber", "Resin", "Parts", "Sheet")
"""In the order of the job, which is not that of the lines below: the parts do not wait for the cut,
which takes longest, so that they can be seen before it is found."""


def lay_out(
    mesh: Mesh,
    settings: Settings,
    memo: Memo | None = None,
    watch: Watch | None = None,
    paint: Paint = NO_PAINT,
    marks: Marks = NO_MARKS,
) -> Layout:
    """Lay out the mold of a scan.

    Parameters
    ----------
    mesh : Mesh
        The scan as it was read; its unit is mm unless a height is set.
    settings : Settings
        What the maker wants.
    memo : Memo, optional
        From last time: stages whose inputs are the same do not run again.
    watch : Watch, optional
        Told of progress, and of case and parts ahead of the rest; stops the work when asked to.
    paint : Paint, optional
        The maker's own brush on the faces of ``mesh``.
    marks : Marks, optional
        Faces of ``mesh`` that no cut may cross.

    Raises
    ------
    RiselineError
        What is wrong, where, and what to do.
    """
    memo, watch = memo or Memo(), watch or Watch()
    scan = memo("Scan", scan_stage, mesh, settings.scan, watch=watch)
    air = memo("Bubbles", bubbles_stage, scan, settings.bubbles, watch=watch)
    bubbles = memo("Bubbles", brush_stage, scan, air, paint, settings.bubbles, watch=watch)
    case = memo("Case", case_stage, scan, stock_of(settings.case), settings.case, watch=watch)
    funnel = memo("Funnel", funnel_stage, case, settings.funnel, watch=watch)
    room, coat_g = memo("Rubber", room_stage, air, case, watch=watch), bubbles.prebrush_g
    pots, wanted = pots_of(settings.rubber), settings.rubber
    rubber = memo("Rubber", rubber_stage, room, coat_g, case, funnel, pots, wanted, watch=watch)
    parts = memo("Parts", parts_stage, case, funnel, rubber.forces, settings.parts, watch=watch)
    watch.made(scan, case, parts)
    cavity = memo("Resin", cavity_in, scan, settings.resin.shell_mm, watch=watch)
    resin = memo(
        "Resin", resin_stage, scan, cavity, rubber.shrink_percent, settings.resin, watch=watch
    )  # fmt: skip
    barred = memo("Cut", marks_on_master, scan, marks, watch=watch)
    master, riser, cuts = scan.mesh, (scan.riser_outline, scan.riser_mm), settings.cut
    piece = memo("Cut", piece_of, master, watch=watch)
    webs = memo("Cut", webs_of, master, *riser, piece.simple, watch=watch)
    allowed, split_deg = allowed_stretch(cuts), cuts.split_deg
    split = memo("Cut", split_of, master, piece.simple, allowed, split_deg, watch=watch)
    teeth = cuts.tooth_mm, cuts.least_slit_mm
    measures = memo("Cut", measured, master, *riser, *teeth, watch=watch)
    cut = memo(
        "Cut", cut_stage, case, piece, webs, split, measures, barred, cuts, watch=watch
    )  # fmt: skip
    parts = memo("Sheet", guide_stage, case, cut, parts, settings.parts, watch=watch)
    sheet = memo("Sheet", sheet_stage, case, funnel, cut, settings.sheet, watch=watch)
    return Layout(
        settings, scan, bubbles, case, funnel, cut, rubber, resin, parts, sheet,
        dict(memo.timings_s),
    )  # fmt: skip
