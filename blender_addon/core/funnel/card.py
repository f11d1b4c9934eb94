"""The funnel as flat pieces of card: throat, cone and wall of the bowl, each a band."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..constants.funnel import CARD_AIR_MM, CARD_AIR_PARTS, CARD_BAND_MM, CARD_FOLD_DEG
from ..geometry.convex import rounded, spread_of
from ..geometry.unrolling import unrolled

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from .result import FunnelResult


@dataclass(frozen=True, eq=False)
class CardBand:
    """A band of card, flat, seen from outside: edges (n, 2) in mm, and where it is bent sharply.

    ``placed_low`` and ``placed_high`` (n, 3) are the same points of the inside of the funnel in
    the job frame.
    """

    name: str
    low_mm: Floats
    high_mm: Floats
    bent: Bools
    placed_low: Floats
    placed_high: Floats


def carded(funnel: FunnelResult) -> FunnelResult:
    """Return the funnel as card makes it: its throat goes into the case, with air all round.

    The printed one needs none at the back, where the case is its wall.
    """
    low, high = funnel.throat_outline_mm.min(axis=0), funnel.throat_outline_mm.max(axis=0)
    air = min(CARD_AIR_MM, float((high - low).min()) / CARD_AIR_PARTS)
    outline = rounded(funnel.throat_outline_mm, air, air)
    return replace(funnel, throat_outline_mm=outline, clearance_mm=0.0)


def card_bands(funnel: FunnelResult) -> tuple[CardBand, ...]:
    """Return throat, cone and wall as flat bands; each begins and ends on the longest side.

    Parameters
    ----------
    funnel : FunnelResult
        As `carded` returns it: its inside is what the card makes.
    """
    outline = _from_longest_side(funnel.throat_outline_mm)
    spread = spread_of(outline)
    bent = _bent(outline)
    levels = (
        ("throat", (funnel.throat_bottom_z_mm, 0.0), (funnel.cone_z_mm, 0.0)),
        ("cone", (funnel.cone_z_mm, 0.0), (funnel.bowl_z_mm, funnel.spread_mm)),
        ("wall", (funnel.bowl_z_mm, funnel.spread_mm), (funnel.top_z_mm, funnel.spread_mm)),
    )
    bands = []
    for name, *ends in levels:
        low, high = (_closed_at(spread.ring(by_mm), z) for z, by_mm in ends)
        bands += _cut_up(name, low, high, bent)
    return tuple(bands)


def _cut_up(name: str, low: Floats, high: Floats, bent: Bools) -> list[CardBand]:
    """Return a band in equal pieces, each shorter than a sheet is wide if its sides are."""
    gone = np.append(0.0, np.cumsum(np.linalg.norm(np.diff(high, axis=0), axis=1)))
    count = 1 if name == "cone" else int(np.ceil(gone[-1] / CARD_BAND_MM))
    ends = np.searchsorted(gone, gone[-1] * np.arange(count + 1) / count - GROUND_MM)
    ends = np.unique(ends)  # two cuts on one long straight side are one, at its end
    pieces = []
    for first, last in itertools.pairwise(ends.tolist()):
        part = slice(first, last + 1)
        flat = unrolled(low[part], high[part])
        sharp = bent[part].copy()
        sharp[[0, -1]] = False
        pieces.append(CardBand(name, *flat, sharp, low[part], high[part]))
    return pieces


def _from_longest_side(outline: Floats) -> Floats:
    """Return an outline that begins in the middle of its longest side."""
    after = np.roll(outline, -1, axis=0)
    k = int(np.linalg.norm(after - outline, axis=1).argmax())
    middle = (outline[k] + after[k]) / 2.0
    return np.vstack([middle, np.roll(outline, -k - 1, axis=0)])


def _bent(outline: Floats) -> Bools:
    """Return at which points of the band, its end included, the outline turns sharply."""
    along = np.roll(outline, -1, axis=0) - outline
    heading = np.unwrap(np.arctan2(along[:, 1], along[:, 0]))
    turn_deg = np.degrees(heading - np.roll(heading, 1))
    bent: Bools = np.append(turn_deg >= CARD_FOLD_DEG, False)
    bent[0] = False
    return bent


def _closed_at(outline: Floats, z_mm: float) -> Floats:
    ring = np.vstack([outline, outline[:1]])
    return np.column_stack([ring, np.full(len(ring), z_mm)])
