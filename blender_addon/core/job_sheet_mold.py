"""The steps of the job sheet from the mixed rubber to the opened mold."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .bubbles.lean_grid import hour_of
from .catalog.pots import VACUUM
from .job_sheet_case import MOST_POCKETS, newtons
from .job_sheet_words import part_text, pots_said
from .sheet import cautions
from .sheet.blocks import Heed, Side, Table, Tick, Words
from .sheet.cut_views import LINES as CUT_LEGEND
from .units import S_PER_H

if TYPE_CHECKING:
    from .job_sheet_words import Said
    from .sheet.blocks import Block, Figure

Job = dict[str, Any]


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
        Table(("Mix", "Part A", "Part B", "Takes up"), rows, ticks=True, large=True),
        Words(f"With {rubber['spare_percent']:.0f} % spare for what stays in cup and funnel."),
        Words(
            f"Mix, degas and pour one cup: {needs}, of {said.time(budget['pot_life_s'])} pot life."
            f" Degas in a vessel of {said.volume(rubber['vessel_ml'])} or more."
        ),
        *pots_said(job, VACUUM),
        Heed(cautions.MATERIALS, usual=True),
        *(Heed(one, usual=True) for one in cautions.OF_RUBBER[job["settings"]["rubber"]["kind"]]),
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
    blocks += _lean(job["bubbles"], said)
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


def _lean(bubbles: dict[str, Any], said: Said) -> list[Block]:
    """Return the lean that traps least, if it helps."""
    lean, trapped_ml = bubbles["lean"], bubbles["trapped_ml"]
    if not lean["degrees"] or (lean["trapped_ml"] or 0.0) >= trapped_ml:
        return []
    way = f"{lean['degrees']:.0f}° towards {hour_of(lean['towards_deg'])} o'clock"
    return [
        Words(
            f"Leaning the case by {way}, the BACK at twelve, would trap"
            f" {said.volume(lean['trapped_ml'])} instead of {said.volume(trapped_ml)}."
        )
    ]


def cut_blocks(job: Job, figures: tuple[Figure, ...], said: Said) -> list[Block]:
    """Return where the knife goes, how deep, and what is cut in through-holes."""
    cut, block = job["cut"], job["rubber"]["block"]
    demold_s = job["settings"]["rubber"]["demold_h"] * S_PER_H
    needs, safe = said.stretch(cut["needed_stretch"]), said.percent(cut["allowed_stretch"])
    length = said.length(cut["slit_length_mm"])
    if cut["kind"] == "none":
        return [Heed("No cut is laid out: the warnings say where and why."), *_webs(cut, said)]
    where = (
        f"One slit: from the base {length} up at the piece."
        if cut["kind"] == "one slit"
        else f"Two halves: all round the piece, {length} along it."
    )
    blocks: list[Block] = [
        Heed(cautions.CUTTING, usual=True),
        Tick(
            f"Let the rubber cure in full, {said.time(demold_s)} or as its data sheet says; take"
            " off case and board."
        ),
        *(Tick(_guide(one, said)) for one in job["guides"]),
        Tick(f"{where} Straight at the piece, toothed further out."),
        Words(f"Uncut the rubber would have to stretch by {needs}; {safe} is safe."),
    ]
    if pull := cut["pull"]:
        blocks.append(_pull(pull))
        if pull["suction_n"]:
            most = newtons(pull["suction_n"])
            blocks.append(Tick(f"Let air in at the cut first; suction can hold up to {most}."))
    if lips := cut["lips"]:
        blocks.append(Words(_lips(lips, said)))
    blocks.append(
        Words(
            f"The block weighs {said.mass(block['rubber_g'])}, with the piece in it"
            f" {said.mass(block['lift_g'])}."
        )
    )
    if figures:
        blocks += [Side(figures), Words(CUT_LEGEND)]
    return [*blocks, *_depths(cut, said), *_webs(cut, said)]


def _pull(pull: dict[str, Any]) -> Block:
    """Return how hard the block opens at the cut; if it must not be, a warning says why."""
    most = newtons(pull["most_n"])
    return Words(f"To open it then: {pull['word']}, {pull['least_n']:.0f} to {most} at a lip.")


def _guide(guide: dict[str, Any], said: Said) -> str:
    """Return where a knife guide goes and what it is for."""
    off = (
        f"{said.length(guide['to_seam_mm'])} to the {guide['way']} of" if guide["way"] else "along"
    )
    name = f"knife guide {guide['side']}".strip()
    return (
        f"Strap the {name} on: its foot on the underside of the block, its straight edge {off} the"
        f" line that the {guide['seam']} seam of the case left. Score the block along the bevelled"
        " edge with the tip of the knife, take the guide off, and cut along the score."
    )


def _lips(lips: dict[str, Any], said: Said) -> str:
    """Return what the two lips of the slit let pass."""
    return (
        f"Its two lips are {said.length(lips['length_mm'])} long each. With the ring of rubber that"
        f" they open they stretch by {said.stretch(lips['stretch'])} to let the widest girth,"
        f" {said.length(lips['girth_mm'])}, pass; by themselves, at the safe stretch, lips of"
        f" {said.length(lips['alone_mm'])} would."
    )


def _depths(cut: dict[str, Any], said: Said) -> list[Block]:
    """Return how deep the knife goes, side by side where there are several."""
    sides = list(dict.fromkeys(one["side"] for one in cut["depths"]))
    by_height: dict[float, dict[str, str]] = {}
    for one in cut["depths"]:
        by_height.setdefault(one["z_mm"], {})[one["side"]] = said.length(one["depth_mm"])
    rows = tuple(
        (said.length(z), *(found.get(side, "") for side in sides))
        for z, found in sorted(by_height.items())
    )
    named = ["Depth of the knife"] if len(sides) == 1 else [f"Depth, {side}" for side in sides]
    return [Table(("Over the board", *named), rows)] if rows else []


def _webs(cut: dict[str, Any], said: Said) -> list[Block]:
    """Return the webs of rubber in through-holes, each to be cut before the piece is pulled."""
    rows = tuple(
        (
            str(number),
            said.area(one["area_cm2"]),
            said.length(one["width_mm"]),
            said.length(one["at_mm"][2]),
        )
        for number, one in enumerate(cut["membranes"], start=1)
    )
    if not rows:
        return []
    head = ("Web", "Area", "Thick", "Over the board")
    return [
        Words("Cut the web of rubber in each hole through the piece before you pull:"),
        Table(head, rows, ticks=True),
    ]
