"""What the pieces of a case and of a board are called, so that each is found on the bench."""

from __future__ import annotations

SIDES = {
    2: ("back", "front"),
    4: ("back", "left", "front", "right"),
    6: ("back", "back left", "front left", "front", "front right", "back right"),
    8: (
        "back", "back left", "left", "front left", "front", "front right", "right", "back right",
    ),
}  # fmt: skip
"""Counter-clockwise from the back, seen from above; left and right as seen from the front."""


def ring_names(count: int) -> tuple[str, ...]:
    """Return what rings that stand on each other are called, the lowest first.

    Examples
    --------
    >>> ring_names(1), ring_names(2), ring_names(4)[3]
    (('',), ('lower', 'upper'), 'ring 4 of 4')
    """
    few = {1: ("",), 2: ("lower", "upper"), 3: ("lower", "middle", "upper")}
    return few.get(count) or tuple(f"ring {k} of {count}" for k in range(1, count + 1))


def tile_names(columns: int, rows: int) -> list[list[str]]:
    """Return what the tiles of a board are called, by column from the left, by row from the front.

    Examples
    --------
    >>> tile_names(1, 1), tile_names(2, 1), tile_names(1, 2)
    ([['']], [['left'], ['right']], [['front', 'back']])
    """
    across = ("",) if columns == 1 else _few(columns, ("left", "middle", "right"))
    along = ("",) if rows == 1 else _few(rows, ("front", "middle", "back"))
    return [[f"{y} {x}".strip() for y in along] for x in across]


def _few(count: int, words: tuple[str, str, str]) -> tuple[str, ...]:
    few = {2: (words[0], words[2]), 3: words}
    return few.get(count) or tuple(f"{words[0]} {k}" for k in range(1, count + 1))
