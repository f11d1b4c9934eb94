"""The step of the job sheet that makes the copy."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .catalog.pots import PRESSURE
from .constants.common import GROUND_MM, MM_PER_INCH
from .constants.resin import LASTING_HEAT_C
from .job_sheet_words import grams, part_text, pots_said
from .sheet import cautions
from .sheet.blocks import Heed, Table, Tick, Words
from .sheet.fill_plot import fill_plot
from .units import S_PER_H

if TYPE_CHECKING:
    from collections.abc import Sized

    from .job_sheet_words import Said
    from .sheet.blocks import Block

MOST_ROWS = 24
"""Of the fill table on paper; the curve beside it gives what lies between."""


def resin_blocks(job: dict[str, Any], said: Said) -> list[Block]:
    """Return the first coat, the fills, and how much still goes in from any height."""
    resin = job["resin"]
    coats, fills = resin["coats"], resin["fills"]
    rows = [
        (_numbered("Coat", k, coats), "all round by hand", part_text(one, "a"), part_text(one, "b"))
        for k, one in enumerate(coats, start=1)
    ]
    rows += [
        (
            _numbered("Fill", k, fills),
            f"to {said.length(one['to_mm_below_rim'])} below the rim"
            if one["to_mm_below_rim"]
            else "to the rim",
            part_text(one, "a"),
            part_text(one, "b"),
        )
        for k, one in enumerate(fills, start=1)
    ]
    stop = said.length(resin["true_base_mm_below_rim"])
    demold_s = job["settings"]["resin"]["demold_h"] * S_PER_H
    return [
        Tick("Mold upside down, opening up; lips closed and held, no gap at the slit."),
        Table(("Resin", "Goes in", "Part A", "Part B"), tuple(rows), ticks=True, large=True),
        *([Words(said.text(resin["fills_because"]))] if resin["fills_because"] else []),
        *_wait(resin, said),
        Words(
            f"The true base lies {stop} below the rim; what is filled beyond it,"
            f" {grams(resin['sanded_g'])}, is sanded off."
        ),
        Heed(cautions.RESIN, usual=True),
        Heed(cautions.MATERIALS, usual=True),
        *(Heed(one, usual=True) for one in cautions.OF_RESIN[job["settings"]["resin"]["kind"]]),
        *_filling(resin, said),
        Tick(
            f"Take the copy out after {said.time(demold_s)} or what its data sheet says, once it"
            " is cool."
        ),
        *pots_said(job, PRESSURE),
        Heed(cautions.PRESSURE, usual=True),
        Heed(cautions.SANDING, usual=True),
    ]


def _wait(resin: dict[str, Any], said: Said) -> list[Block]:
    """Return how long to wait between fills."""
    if len(resin["fills"]) < 2:
        return []
    return [
        Tick(
            f"After each fill: let it gel and cool below {LASTING_HEAT_C:.0f} °C, for the thickest"
            f" about {said.time(resin['heat']['cools_s'])}, before the next."
        )
    ]


def _numbered(word: str, number: int, of: Sized) -> str:
    return f"{word} {number}" if len(of) > 1 else word


def _filling(resin: dict[str, Any], said: Said) -> list[Block]:
    """Return curve and table: inside the shell where there is one, and in the bare mold."""
    bare, inside = resin["fill_table"], resin["cavity_table"]
    if not _is_whole(bare):
        return []
    by_ml_g = resin["copy_g"] / resin["copy_ml"]
    tables = [inside, bare] if _is_whole(inside) else [bare]
    read = [_readings(table, bare, inches=said.inches) for table in tables]
    rows = tuple(
        (
            said.length(lines[0][0]),
            *(f"{said.volume(left)}, {grams(left * by_ml_g)}" for _, left in lines),
        )
        for lines in zip(*read, strict=True)
    )
    named = ("Inside the shell", "In the bare mold")[-len(tables) :]
    curves = [np.array(table) for table in tables]
    return [fill_plot(*curves, inches=said.inches), Table(("Below the rim", *named), rows)]


def _is_whole(table: list[list[float]]) -> bool:
    return len(table) > 1 and all(one is not None for row in table for one in row)


def _readings(
    table: list[list[float]], depths: list[list[float]], *, inches: bool
) -> list[tuple[float, float]]:
    """Return a table at heights that a ruler has: steps of ``depths``, or quarters of an inch.

    Examples
    --------
    >>> table = [[0.0, 0.0], [12.7, 100.0]]
    >>> _readings(table, table, inches=True)
    [(0.0, 0.0), (6.35, 50.0), (12.7, 100.0)]
    """
    below = np.array(depths)[:, 0]
    step = MM_PER_INCH / 4.0 if inches else float(below[1] - below[0])
    step *= max(np.ceil(below[-1] / step / MOST_ROWS), 1.0)
    wanted = np.arange(0.0, below[-1] + GROUND_MM, step)
    return list(zip(wanted.tolist(), np.interp(wanted, *np.array(table).T).tolist(), strict=True))
