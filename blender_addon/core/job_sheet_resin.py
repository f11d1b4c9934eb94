"""The step of the job sheet that makes the copy."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .job_sheet_words import grams
from .sheet import cautions
from .sheet.blocks import Heed, Table, Tick
from .sheet.fill_plot import fill_plot

if TYPE_CHECKING:
    from .job_sheet_words import Said
    from .sheet.blocks import Block

MOST_ROWS = 24
"""Of the fill table on paper; the curve beside it gives what lies between."""


def resin_blocks(job: dict[str, Any], said: Said) -> list[Block]:
    """Return the first coat, the fills, and how much still goes in from any height."""
    resin = job["resin"]
    rows = [("First coat", "", said.volume(resin["shell_ml"]), grams(resin["shell_g"]))]
    rows += [
        (
            f"Fill {number}",
            f"to {said.length(one['to_mm_below_rim'])} below the rim",
            said.volume(one["ml"]),
            grams(one["g"]),
        )
        for number, one in enumerate(resin["fills"], start=1)
    ]
    return [
        Tick("Mold upside down, opening up; lips closed and held, no gap at the slit."),
        Table(("Resin", "", "Volume", "Mass"), tuple(rows), ticks=True),
        Heed(cautions.RESIN, usual=True),
        Heed(cautions.MATERIALS, usual=True),
        *_filling(resin, said),
        Heed(cautions.PRESSURE, usual=True),
        Heed(cautions.SANDING, usual=True),
    ]


def _filling(resin: dict[str, Any], said: Said) -> list[Block]:
    table = resin["fill_table"]
    if len(table) < 2 or any(one is None for row in table for one in row):
        return []
    every = -(-len(table) // MOST_ROWS)
    by_ml_g = resin["copy_g"] / resin["copy_ml"]
    rows = tuple(
        (said.length(below), said.volume(left), grams(left * by_ml_g))
        for below, left in table[::every]
    )
    return [
        fill_plot(np.array(table), inches=said.inches),
        Table(("Below the rim", "Still to fill", "Resin"), rows),
    ]
