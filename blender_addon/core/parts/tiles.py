"""A board in tiles that lock like a puzzle, where it is larger than the print bed."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.common import GROUND_MM
from ..constants.parts import (
    KEY_DEEP_MM,
    KEY_LAND_MM,
    KEY_LEVELS_MM,
    KEY_NECK_SHARE,
    KEY_STEP_MM,
    KEY_WIDE_MM,
    MOST_TILES,
)
from .bed import bed_of
from .naming import tile_names
from .rounds import rectangle, upright
from .seams import FAR_MM

if TYPE_CHECKING:
    from ..arrays import Floats
    from .bed import Bed
    from .settings import PartsSettings


def board_tiles(
    board: manifold3d.Manifold, settings: PartsSettings
) -> list[tuple[str, manifold3d.Manifold]]:
    """Return the board, whole or in as few tiles as fit the bed, with their names.

    Keys are cut upright through the board: they lock in plan, and nothing of them overhangs. Where
    no split helps it stays whole, and is sawn of wood.
    """
    plan, bed = board.project(), bed_of(settings)
    levels = [board.slice(z) for z in KEY_LEVELS_MM]
    if bed.turn_deg(_points(plan)) is not None:
        return [("base board", board)]
    for columns, rows in _counts():
        tiles = _tiles(plan, levels, columns, rows, settings.fit_mm)
        sections = [plan ^ tile for tile in tiles]
        if all(section.is_empty() or _is_whole(section, bed) for section in sections):
            low, high = board.bounding_box()[2::3]
            names = [name for column in tile_names(columns, rows) for name in column]
            return [
                (f"base board {name}", board ^ upright(tile, low - 1.0, high + 1.0))
                for name, tile, section in zip(names, tiles, sections, strict=True)
                if not section.is_empty()  # a round board leaves corners of its box free
            ]
    return [("base board", board)]


def _is_whole(section: manifold3d.CrossSection, bed: Bed) -> bool:
    """Tell whether a tile fits the bed and hangs together: a bow of the rim may fall into two."""
    return len(section.decompose()) == 1 and bed.turn_deg(_points(section)) is not None


def _counts() -> list[tuple[int, int]]:
    """Return columns and rows to try, the fewest tiles first, rows before columns.

    So the arrow at the back stays whole as long as it can.
    """
    each = range(1, MOST_TILES + 1)
    return sorted(((x, y) for x in each for y in each), key=lambda pair: (pair[0] * pair[1], pair))


def _points(plan: manifold3d.CrossSection) -> Floats:
    return np.vstack(plan.to_polygons())


def _tiles(
    plan: manifold3d.CrossSection,
    levels: list[manifold3d.CrossSection],
    columns: int,
    rows: int,
    fit_mm: float,
) -> list[manifold3d.CrossSection]:
    """Return the tiles in plan, by column from the left and row from the front, reaching far out.

    A tile's keys stand out to the right and to the back.
    """
    left, front, right, back = plan.bounds()
    xs, ys = _cuts(left, right, columns), _cuts(front, back, rows)
    cells = [
        rectangle((x, y), (x_end, y_end)) for x, x_end in pairwise(xs) for y, y_end in pairwise(ys)
    ]
    tiles, sections = list(cells), [plan ^ cell for cell in cells]
    for k, section in enumerate(sections):
        column, row = divmod(k, rows)
        for other, to_right in ((k + rows, True), (k + 1, False)):
            if (column + 1 if to_right else row + 1) == (columns if to_right else rows):
                continue
            if section.is_empty() or sections[other].is_empty():
                continue
            for key in _keys(section, levels, to_right=to_right):
                tiles[k] += key
                tiles[other] -= key.offset(fit_mm, manifold3d.JoinType.Miter)
    return tiles


def _cuts(low: float, high: float, count: int) -> list[float]:
    inner = np.linspace(low, high, count + 1)[1:-1]
    return [-FAR_MM, *(float(at) for at in inner), FAR_MM]


def _keys(
    cell: manifold3d.CrossSection, levels: list[manifold3d.CrossSection], *, to_right: bool
) -> list[manifold3d.CrossSection]:
    """Return the keys on the right side of a piece of the board, or on its back.

    Each stands as near to its quarter of the side as it finds a place where no edge of groove, rim
    or riser runs over it: what is left of them there would be too thin to print.
    """
    points = _points(cell) if to_right else _points(cell)[:, ::-1]
    edge = float(points[:, 0].max())
    along = points[points[:, 0] >= edge - KEY_DEEP_MM / 100.0, 1]
    low, high = float(along.min()), float(along.max())
    two = high - low > 8.0 * KEY_WIDE_MM
    keys = []
    for first, last in ((0.0, 0.5), (0.5, 1.0)) if two else ((0.0, 1.0),):
        middle, room = (first + last) / 2.0, (last - first) * (high - low) / 2.0 - KEY_WIDE_MM
        steps = max(int(room / KEY_STEP_MM), 0)
        places = low + middle * (high - low) + KEY_STEP_MM * np.arange(-steps, steps + 1)
        places = places[np.argsort(np.abs(places - places.mean()), kind="stable")]
        tried = [_key(edge, float(y), to_right=to_right) for y in places]
        keys.append(next((key for key in tried if _is_clear(key, levels)), tried[0]))
    return keys


def _key(edge: float, y: float, *, to_right: bool) -> manifold3d.CrossSection:
    neck, end = KEY_NECK_SHARE * KEY_WIDE_MM / 2.0, KEY_WIDE_MM / 2.0
    deep = edge + KEY_DEEP_MM
    corners = [(edge - 1.0, y - neck), (edge, y - neck), (deep, y - end)]
    corners += [(deep, y + end), (edge, y + neck), (edge - 1.0, y + neck)]
    outline = np.array(corners) if to_right else np.array(corners)[::-1, ::-1]
    return manifold3d.CrossSection([outline])


def _is_clear(key: manifold3d.CrossSection, levels: list[manifold3d.CrossSection]) -> bool:
    """Tell whether a key lies wholly in or wholly out of every section, with some land round it."""
    room = key.offset(KEY_LAND_MM, manifold3d.JoinType.Miter)
    shares = [(room ^ level).area() / room.area() for level in levels]
    return all(min(share, 1.0 - share) < GROUND_MM for share in shares)
