"""Blocks one under the other over as many pages as they need."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import SHEET_EDGE_MM
from .drawing import Line, Text
from .page import PAPERS, Page, Placed
from .setting import set_block
from .shapes import moved

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .blocks import Block
    from .drawing import Shape, Spot
    from .pieces import Set

FOOT_MM = 9.0


def flowed(blocks: Sequence[Block], paper: str, name: str, always: str) -> tuple[Page, ...]:
    """Return blocks as pages.

    Parameters
    ----------
    blocks : sequence of Block
    paper : str
        A name of `PAPERS`.
    name : str
        What each page is of, at its foot with its number.
    always : str
        What stands at the foot of every page.
    """
    size = PAPERS[paper]
    sets = [one for block in blocks for one in set_block(block, size[0] - 2.0 * SHEET_EDGE_MM)]
    room = size[1] - 2.0 * SHEET_EDGE_MM - FOOT_MM
    pages: list[list[tuple[Set, float]]] = [[]]
    used = 0.0
    for k, one in enumerate(sets):
        added = [one]
        if pages[-1] and used + _needs_mm(sets, k) > room:
            pages.append([])
            used = 0.0
            added = [one] if one.head is None else [one.head, one]
        for each in added if one.smaller is None else [_fitted(sets, k, room - used)]:
            pages[-1].append((each, size[1] - SHEET_EDGE_MM - used))
            used += each.height_mm
    return tuple(
        _page(size, page, f"{name}  \xb7  page {number} of {len(pages)}", always)
        for number, page in enumerate(pages, start=1)
    )


def _needs_mm(sets: Sequence[Set], k: int) -> float:
    """Return the height that a piece needs with those that it must stay with."""
    height = _least_mm(sets[k])
    while sets[k].keeps_next and k + 1 < len(sets):
        k += 1
        height += _least_mm(sets[k])
    return height


def _fitted(sets: Sequence[Set], k: int, room_mm: float) -> Set:
    """Return a piece as small as must be: to leave room for the next if it can, to fit if not."""
    one = sets[k]
    others = _needs_mm(sets, k + 1) if one.wants_next and k + 1 < len(sets) else 0.0
    for room in (room_mm - others, room_mm):
        if room >= _least_mm(one):
            return one if one.smaller is None or one.height_mm <= room else one.smaller(room)
    return one


def _least_mm(one: Set) -> float:
    return one.height_mm if one.least_mm is None else one.least_mm


def _page(size: Spot, page: Sequence[tuple[Set, float]], name: str, always: str) -> Page:
    shapes: list[Shape] = []
    placed: list[Placed] = []
    for one, top in page:
        shapes += [moved(shape, (SHEET_EDGE_MM, top)) for shape in one.shapes]
        placed += [
            dataclasses.replace(each, at_mm=(SHEET_EDGE_MM + each.at_mm[0], top + each.at_mm[1]))
            for each in one.placed
        ]
    y, right = SHEET_EDGE_MM, size[0] - SHEET_EDGE_MM
    shapes += [
        Line(np.array([[SHEET_EDGE_MM, y + 6.5], [right, y + 6.5]]), "faint"),
        Text((SHEET_EDGE_MM, y + 3.2), always, 2.8),
        Text((SHEET_EDGE_MM, y - 0.6), name, 2.8),
    ]
    return Page(size, tuple(shapes), tuple(placed))
