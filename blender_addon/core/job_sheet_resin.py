"""The step of the job sheet that makes the copy."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .catalog.pots import PRESSURE
from .constants import GROUND_MM, MM_PER_INCH
from .job_sheet_words import grams, part_text, pots_said
from .sheet import cautions
from .sheet.blocks import Heed, Table, Tick, Words
from .sheet.fill_plot import fill_plot

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
            f"to {said.length(one['to_mm_below_rim'])} below the rim",
            part_text(one, "a"),
            part_text(one, "b"),
        )
        for k, one in enumerate(fills, start=1)
    ]
    stop = said.length(resin["true_base_mm_below_rim"])
    return [
        Tick("Mold upside down, opening up; lips closed and held, no gap at the slit."),
        Table(("Resin", "Goes in", "Part A", "Part B"), tuple(rows), ticks=True),
        Words(
            f"The true base lies {stop} below the rim; what is filled beyond it,"
            f" {grams(resin['sanded_g'])}, is sanded off."
        ),
        Heed(cautions.RESIN, usual=True),
        Heed(cautions.MATERIALS, usual=True),
        *_filling(resin, said),
        *pots_said(job, PRESSURE),
        Heed(cautions.PRESSURE, usual=True),
        Heed(cautions.SANDING, usual=True),
    ]


def _numbered(word: str, number: int, of: Sized) -> str:
    return f"{word} {number}" if len(of) > 1 else word


def _filling(resin: dict[str, Any], said: Said) -> list[Block]:
    table = resin["fill_table"]
    if len(table) < 2 or any(one is None for row in table for one in row):
        return []
    by_ml_g = resin["copy_g"] / resin["copy_ml"]
    rows = tuple(
        (said.length(below), said.volume(left), grams(left * by_ml_g))
        for below, left in _readings(table, inches=said.inches)
    )
    return [
        fill_plot(np.array(table), inches=said.inches),
        Table(("Below the rim", "Still to fill", "Resin"), rows),
    ]


def _readings(table: list[list[float]], *, inches: bool) -> list[tuple[float, float]]:
    """Return the fill table at heights that a ruler has: steps of it, or quarters of an inch.

    Examples
    --------
    >>> _readings([[0.0, 0.0], [12.7, 100.0]], inches=True)
    [(0.0, 0.0), (6.35, 50.0), (12.7, 100.0)]
    """
    below, left = np.array(table).T
    step = MM_PER_INCH / 4.0 if inches else float(below[1] - below[0])
    step *= max(np.ceil(below[-1] / step / MOST_ROWS), 1.0)
    wanted = np.arange(0.0, below[-1] + GROUND_MM, step)
    return list(zip(wanted.tolist(), np.interp(wanted, below, left).tolist(), strict=True))
