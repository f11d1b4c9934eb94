"""The job sheet that goes to the bench: the work in its order, with boxes to tick."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .case.case import ONE_DIAMETER, STOCK
from .job_sheet_case import brush_blocks, case_blocks
from .job_sheet_mold import cut_blocks, pour_blocks, weigh_blocks
from .job_sheet_resin import resin_blocks
from .job_sheet_words import Said, heeded
from .sheet.blocks import Heading, Numbers, Table, Title, Words
from .sheet.cautions import ALWAYS
from .sheet.flow import flowed
from .sheet.settings import INCHES
from .units import mass_text, time_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .pictures.views_of import Seen
    from .sheet.blocks import Block, Figure
    from .sheet.page import Page


def sheet_blocks(
    job: dict[str, Any],
    seen: Sequence[Seen],
    areas_cm2: dict[str, float],
    cut_figures: tuple[Figure, ...],
) -> list[Block]:
    """Return the job sheet in blocks, in the order of the work.

    Parameters
    ----------
    job : dict
        As ``job_of`` returns it.
    seen : sequence of Seen
        The brush map from all sides.
    areas_cm2 : dict
        Of the classes that it shows.
    cut_figures : tuple of Figure
        The cut on the piece.
    """
    said = Said(inches=job["settings"]["sheet"]["units"] == INCHES)
    steps = (
        ("Print", _lists(job, said), ("parts", "sheet")),
        ("Case and board", case_blocks(job, said), ("scan", "case")),
        ("Brush first", brush_blocks(job, seen, areas_cm2, said), ("bubbles",)),
        ("Weigh out and mix", weigh_blocks(job, said), ("rubber",)),
        ("Pour", pour_blocks(job, said), ("funnel",)),
        ("Open and cut", cut_blocks(job, cut_figures, said), ("cut",)),
        ("Cast the copy", resin_blocks(job, said), ("resin",)),
    )
    blocks: list[Block] = [
        Title(f"Job sheet: {job['scan']['file']}", _piece(job, said)),
        Numbers(_numbers(job, said)),
    ]
    for number, (heading, step, stages) in enumerate(steps, start=1):
        blocks += [Heading(f"{number}  {heading}"), *heeded(job["warnings"], stages, said), *step]
    return blocks


def sheet_pages(blocks: Sequence[Block], job: dict[str, Any]) -> tuple[Page, ...]:
    """Return the job sheet's pages; what is always to be heeded stands on each."""
    name = f"{job['program']['name']} {job['program']['version']}  \xb7  {job['scan']['file']}"
    return flowed(blocks, job["settings"]["sheet"]["paper"], name, ALWAYS)


def _piece(job: dict[str, Any], said: Said) -> str:
    size, volume = said.size(job["scan"]["size_mm"]), said.volume(job["scan"]["volume_ml"])
    return f"{size}  \xb7  {volume}  \xb7  Date ____________  Who ____________"


def _numbers(job: dict[str, Any], said: Said) -> tuple[tuple[str, str], ...]:
    rubber, case, cut, resin = (job[key] for key in ("rubber", "case", "cut", "resin"))
    widest = "" if case["kind"] in ONE_DIAMETER else "widest "
    part_a, part_b = (sum(one[key] or 0.0 for one in rubber["batches"]) for key in ("a_g", "b_g"))
    return (
        ("Rubber, all cups", said.mass(rubber["mass_g"])),
        ("Rubber, part A", mass_text(part_a)),
        ("Rubber, part B", mass_text(part_b)),
        ("Case, height", said.length(case["height_mm"])),
        (f"Case, {widest}inside", said.length(case["inner_diameter_mm"])),
        ("Channel at the back", said.length(case["channel_mm"])),
        (
            "Pour takes, of pot life",
            f"{said.time(rubber['pour_s'])} / {time_text(rubber['pot_life_s'])}",
        ),
        _cut_number(cut, said),
        ("Resin for the copy", said.mass(resin["copy_g"])),
    )


def _cut_number(cut: dict[str, Any], said: Said) -> tuple[str, str]:
    named = {"one slit": "Slit, from the base", "two halves": "Cut, all round the piece"}
    if cut["kind"] not in named:
        return ("Cut", "none found")
    return (named[cut["kind"]], said.length(cut["slit_length_mm"]))


def _lists(job: dict[str, Any], said: Said) -> list[Block]:
    """Return what is printed on paper and what on the printer."""
    sheets = tuple(
        (one["title"], one["file"], said.size(one["size_mm"]), str(one["sheets"]))
        for one in job["sheet"]["drawings"]
    )
    parts = tuple(
        (
            one["name"],
            one["file"],
            said.size(one["size_mm"]),
            str(one["quantity"]),
        )
        for one in job["parts"]
    )
    pages = job["sheet"]["templates_pages"]
    blocks: list[Block] = [
        Words(f"{job['sheet']['templates']}: all on {pages} sheets, 1:1 but for pictures."),
        Table(("Template", "File", "Size", "Sheets"), sheets, ticks=True),
    ]
    if parts and job["case"]["kind"] == STOCK:
        words = "Case, board and funnel are made one way: sawn and folded by templates, or printed."
        blocks.append(Words(words))
    if parts:
        blocks.append(Table(("Part to print", "File", "Size", "How many"), parts, ticks=True))
    return blocks
