"""Marks on a picture: where each pocket's air stands highest, and where its way out closes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import LEAST_POCKET_ML, MOST_BODIES
from ..constants.pictures import LABEL_PIXELS
from ..units import length_text, volume_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats
    from ..bubbles.result import Doubt, Pocket
    from .raster import Raster
    from .views import View

Spot = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """A pocket in a picture: places in pixels, and whether the piece hides them."""

    number: int
    text: str
    ceiling: Spot
    ceiling_hidden: bool
    saddle: Spot | None
    saddle_hidden: bool


def marks_of(
    pockets: Sequence[Pocket], placement: Floats, view: View, raster: Raster
) -> tuple[Mark, ...]:
    """Return the marks of the largest pockets, numbered from 1, largest first.

    Parameters
    ----------
    pockets : sequence of Pocket
        In the scan frame.
    placement : ndarray, shape (4, 4)
        Brings the scan frame into the job frame.
    view : View
    raster : Raster
        The view's picture.
    """
    found = []
    ranked = sorted(pockets, key=lambda one: -one.volume_ml)[:MOST_BODIES]
    for number, pocket in enumerate(ranked, start=1):
        ceiling, saddle = (
            view.axes @ (placement[:3, :3] @ np.asarray(place) + placement[:3, 3])
            for place in (pocket.ceiling_at_mm, pocket.escape_at_mm)
        )
        shut = pocket.kind != "underside"
        found.append(
            Mark(
                number,
                f"{volume_text(pocket.volume_ml)}, {length_text(pocket.depth_mm)} deep"
                + (", shut off" if shut else ""),
                raster.at(ceiling),
                raster.is_hidden(ceiling),
                None if shut else raster.at(saddle),
                raster.is_hidden(saddle),
            )
        )
    return tuple(found)


@dataclass(frozen=True)
class Question:
    """A place of a picture where the scan leaves something open, in pixels, and what to say."""

    at: Spot
    hidden: bool
    text: str


def question_of(doubt: Doubt, placement: Floats, view: View, raster: Raster) -> Question | None:
    """Return where columns cannot be decided, if that may change the air by a listed pocket.

    Parameters
    ----------
    doubt : Doubt
        In the scan frame.
    placement : ndarray, shape (4, 4)
        Brings the scan frame into the job frame.
    view : View
    raster : Raster
        The view's picture.
    """
    if doubt.at_mm is None or doubt.most_ml < LEAST_POCKET_ML:
        return None
    place = view.axes @ (placement[:3, :3] @ np.asarray(doubt.at_mm) + placement[:3, 3])
    text = f"undecided, {volume_text(doubt.most_ml)} at the most"
    return Question(raster.at(place), raster.is_hidden(place), text)


def label_rows(wanted: Sequence[float]) -> list[float]:
    """Return where labels go that each want a height: in their order, none over another.

    Examples
    --------
    >>> label_rows([50.0, 10.0, 52.0])
    [50.0, 10.0, 68.0]
    """
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    rows, free = [0.0] * len(wanted), -np.inf
    for k in order:
        rows[k] = float(max(wanted[k], free))
        free = rows[k] + LABEL_PIXELS
    return rows
