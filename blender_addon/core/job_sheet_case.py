"""The steps of the job sheet before anything is mixed: case, board, piece, brush."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .case.case import STOCK
from .constants.common import G_PER_KG, GRAVITY_M_S2
from .constants.sheet import SHEET_WIDE_MM, SMALL_FIGURE_MM
from .sheet import cautions
from .sheet.blocks import Heed, Side, Table, Tick, Words
from .sheet.brush_figures import brush_figure, legend_figure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .job_sheet_words import Said
    from .pictures.views_of import Seen
    from .sheet.blocks import Block

Job = dict[str, Any]

MOST_POCKETS = 12
CLOSES = {"sealed": "shut all round", "under foot": "shut by the board"}


def case_blocks(job: Job, said: Said) -> list[Block]:
    """Return how case, board and piece come together, and what must hold."""
    case = job["case"]
    name = said.text(case["name"])
    name = name[:1].upper() + name[1:]
    if case["kind"] == STOCK:
        made: list[Block] = [
            Tick(f"{name}: saw it off at {said.length(case['height_mm'])} along the wrap."),
            Tick("Saw it in two along both seam lines; mark FRONT and BACK on the halves."),
            Heed(cautions.SAWING, usual=True),
        ]
    else:
        made = [Tick(f"{name}: put the printed parts together, and close their seams.")]
    return [
        *made,
        Tick(
            f"Riser of {said.length(case['riser_mm'])} on the board as drawn, BACK to BACK; the "
            "piece on it. The pour channel is at the BACK."
        ),
        Tick(
            f"Close the case round it. Least rubber {said.length(case['least_rubber_mm'])}, channel"
            f" {said.length(case['channel_mm'])}: measure both before you seal."
        ),
        Tick("Seal the foot and every seam with wax or putty: they seal, they hold nothing."),
        Heed(cautions.WAX, usual=True),
        *_holding(job, said),
    ]


def _holding(job: Job, said: Said) -> list[Block]:
    """Return what holds seams, base and piece against the rubber."""
    blocks: list[Block] = []
    case, closing = job["case"], job["closing"]
    forces, holding = case["forces"], case["holding"]
    if holding is None:
        base, seam, lift = (forces[key] for key in ("base_push_n", "seam_pull_n", "uplift_n"))
        return [
            Tick(f"Hold: base {newtons(base)}, each seam {newtons(seam)}, piece {newtons(lift)}.")
        ]
    seam, base = newtons(holding["seam_n"]), newtons(holding["base_n"])
    if case["kind"] != STOCK and closing is not None:
        each = f"{len(closing['heights_mm'])} on each of {closing['seams']} seams"
        blocks.append(
            Tick(f"{closing['count']} {closing['kind']} {said.text(closing['size'])}: {each}.")
        )
    else:
        heights = ", ".join(said.length(one) for one in holding["band_z_mm"])
        count = len(holding["band_z_mm"])
        blocks.append(
            Tick(
                f"Hold each seam with {seam} or more: {count} bands of cloth tape right round,"
                f" their middles {heights} over the board."
            )
        )
    blocks.append(Tick(f"Hold the base with {base} or more; carry the case by its board."))
    down = holding["hold_down_n"]
    solid, light = said.percent(holding["hollow_share"]), said.mass(_floats_g(forces["uplift_n"]))
    blocks.append(
        Tick(f"Hold the piece down with {newtons(down)} or more: it floats.")
        if down
        else Tick(
            f"Weigh the piece: under {light}, less than {solid} of a solid one, it floats."
            " Then screw or glue it to the riser."
        )
    )
    return blocks


def _floats_g(uplift_n: float | None) -> float | None:
    """Return what rubber carries that lifts so much."""
    return None if uplift_n is None else uplift_n / GRAVITY_M_S2 * G_PER_KG


def newtons(force_n: float | None) -> str:
    """Return a force.

    Examples
    --------
    >>> newtons(27.9), newtons(None)
    ('28 N', 'unknown')
    """
    return "unknown" if force_n is None else f"{force_n:.0f} N"


def brush_blocks(
    job: Job, seen: Sequence[Seen], areas_cm2: dict[str, float], said: Said
) -> list[Block]:
    """Return the brush map, and the pockets to brush in their order."""
    bubbles = job["bubbles"]
    area, mass = said.area(bubbles["prebrush_area_cm2"], ".0f"), said.mass(bubbles["prebrush_g"])
    large = tuple(brush_figure(one) for one in seen[:2])
    small = tuple(brush_figure(one, SMALL_FIGURE_MM) for one in seen[2:])
    blocks: list[Block] = [
        Tick(f"Brush {area} with {mass} of rubber, the colored places, before the pour."),
        Side(large),
        Side(small),
        legend_figure(areas_cm2, SHEET_WIDE_MM, inches=said.inches),
    ]
    rows = tuple(
        (
            str(number),
            said.volume(one["volume_ml"]),
            said.length(one["depth_mm"]),
            said.length(one["ceiling_mm"]),
            CLOSES.get(one["kind"], said.length(one["escape_mm"])),
        )
        for number, one in enumerate(bubbles["pockets"][:MOST_POCKETS], start=1)
    )
    if rows:
        head = ("Pocket", "Air", "Deep", "Top, over the board", "Closes at")
        blocks.append(Table(head, rows, ticks=True))
    more = len(bubbles["pockets"]) - MOST_POCKETS
    if more > 0:
        blocks.append(Words(f"And {more} smaller pockets, all under the colored places."))
    return blocks
