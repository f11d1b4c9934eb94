"""The steps of the job sheet up to the cut mold."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .case.case import STOCK
from .constants import SHEET_WIDE_MM, SMALL_FIGURE_MM
from .job_sheet_words import part_text
from .sheet import cautions
from .sheet.blocks import Heed, Side, Table, Tick, Words
from .sheet.brush_figures import brush_figure, legend_figure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .job_sheet_words import Said
    from .pictures.views_of import Seen
    from .sheet.blocks import Block

Job = dict[str, Any]


def case_blocks(job: Job, said: Said) -> list[Block]:
    """Return how case, board and piece come together, and what must hold."""
    case, forces = job["case"], job["case"]["forces"]
    base, seam, lift = (
        f"{forces[key]:.0f} N" if forces[key] is not None else "unknown"
        for key in ("base_push_n", "seam_pull_n", "uplift_n")
    )
    name = case["name"][:1].upper() + case["name"][1:]
    if case["kind"] == STOCK:
        made: list[Block] = [
            Tick(f"{name}: saw it off at {said.length(case['height_mm'])} along the wrap."),
            Tick("Saw it in two along both seam lines; mark FRONT and BACK on the halves."),
            Heed(cautions.SAWING, usual=True),
        ]
    else:
        made = [Tick(f"{name}: print the parts listed at the end, and bolt the halves.")]
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
        Tick(
            f"Seal both seams and the foot, then hold: base {base}, each seam {seam}, piece against"
            f" floating {lift}."
        ),
        Heed(cautions.WAX, usual=True),
    ]


def brush_blocks(
    job: Job, seen: Sequence[Seen], areas_cm2: dict[str, float], said: Said
) -> list[Block]:
    """Return the brush map, and the pockets to brush in their order."""
    bubbles = job["bubbles"]
    area, mass = bubbles["prebrush_area_cm2"], said.mass(bubbles["prebrush_g"])
    large = tuple(brush_figure(one) for one in seen[:2])
    small = tuple(brush_figure(one, SMALL_FIGURE_MM) for one in seen[2:])
    blocks: list[Block] = [
        Tick(f"Brush {area:.0f} cm² with {mass} of rubber, the colored places, before the pour."),
        Side(large),
        Side(small),
        legend_figure(areas_cm2, SHEET_WIDE_MM),
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


MOST_POCKETS = 12
CLOSES = {"sealed": "shut all round", "under foot": "shut by the board"}


def weigh_blocks(job: Job, said: Said) -> list[Block]:
    """Return what to weigh out, for the brush and cup by cup, and how much time there is."""
    rubber, budget = job["rubber"], job["rubber"]["budget"]
    cups = [("Brush", rubber["coat"])] if rubber["coat"] else []
    cups += [(f"Cup {k}", one) for k, one in enumerate(rubber["batches"], start=1)]
    rows = tuple(
        (name, part_text(one, "a"), part_text(one, "b"), said.volume(one["cup_ml"]))
        for name, one in cups
    )
    needs = " + ".join(said.time(budget[key]) for key in ("mix_s", "degas_s", "pour_s"))
    return [
        Table(("Mix", "Part A", "Part B", "Takes up"), rows, ticks=True),
        Words(f"With {rubber['spare_percent']:.0f} % spare for what stays in cup and funnel."),
        Words(
            f"Mix, degas and pour one cup: {needs}, of {said.time(budget['pot_life_s'])} pot life."
            f" Degas in a vessel of {said.volume(rubber['vessel_ml'])} or more."
        ),
        Heed(cautions.MATERIALS, usual=True),
        Heed(cautions.POLYURETHANE, usual=True),
        Heed(cautions.SILICONE, usual=True),
        Heed(cautions.VACUUM, usual=True),
    ]


def pour_blocks(job: Job, said: Said) -> list[Block]:
    """Return the pour: where, how long, where to slow down, and where to stop."""
    rubber, pockets = job["rubber"], job["bubbles"]["pockets"]
    left = job["case"]["height_mm"] - rubber["level_z_mm"]
    blocks: list[Block] = [
        Tick("Hang the funnel on the rim at the BACK; the piece must not be hit."),
        Tick(
            f"Pour in one thin stream: about {said.time(rubber['pour_s'])} through this funnel,"
            f" trust it to half of itself. Pot life {said.time(rubber['pot_life_s'])}."
        ),
    ]
    rows = tuple(
        (
            said.length(one["level_z_mm"]),
            said.volume(one["rubber_ml"]),
            f"{one['pocket'] + 1}: {said.volume(pockets[one['pocket']]['volume_ml'])}",
        )
        for one in rubber["closings"]
        if one["pocket"] < MOST_POCKETS
    )
    if rows:
        blocks.append(Tick("Slow down, tap and look before each of these levels:"))
        blocks.append(Table(("Level", "Poured by then", "Pocket that closes"), rows, ticks=True))
    blocks.append(
        Tick(
            f"Stop at {said.length(rubber['level_z_mm'])} over the board:"
            f" {said.length(left)} below the rim."
        )
    )
    return blocks


def cut_blocks(job: Job, said: Said) -> list[Block]:
    """Return where the knife goes, and how deep."""
    cut, block = job["cut"], job["rubber"]["block"]
    needs, safe = said.percent(cut["needed_stretch"]), said.percent(cut["allowed_stretch"])
    blocks: list[Block] = [
        Heed(cautions.CUTTING, usual=True),
        Tick("Let the rubber cure in full; take off case and board."),
        Tick(
            f"{cut['kind'].capitalize()}: from the base, {said.length(cut['slit_length_mm'])} up at"
            " the BACK. Straight at the piece, toothed further out."
        ),
        Words(f"Uncut the rubber would have to stretch by {needs}; {safe} is safe."),
        Words(
            f"The block weighs {said.mass(block['rubber_g'])}, with the piece in it"
            f" {said.mass(block['lift_g'])}."
        ),
    ]
    rows = tuple((said.length(one["z_mm"]), said.length(one["depth_mm"])) for one in cut["depths"])
    if rows:
        blocks.append(Table(("Over the board", "Depth of the knife"), rows))
    return blocks
