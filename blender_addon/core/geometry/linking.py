"""How often closed lines in space go through each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Bools, Floats

_TURN = np.linalg.qr(np.array([[3.0, 1.0, 2.0], [1.0, -4.0, 1.5], [2.5, 0.7, -1.0]]))[0]
"""A way of looking along which no two lines of a mesh lie over each other but by chance."""


def linked_oddly(ones: Sequence[Floats], others: Sequence[Floats]) -> Bools:
    """Return which closed lines, each (k, 3), pass through which others an odd number of times.

    Seen from anywhere, one crosses over the other that often, counted modulo 2.

    Parameters
    ----------
    ones, others : sequence of ndarray
        Their first points are joined to their last.

    Returns
    -------
    ndarray, shape (number of ones, number of others)

    Examples
    --------
    >>> ring = np.array([[1.0, 0, 0], [0, 1, 0], [-1, 0, 0], [0, -1, 0]])
    >>> through = np.array([[1.0, 0.1, 1], [1.2, 0.1, -1], [3, 0, 0]])
    >>> linked_oddly([ring], [ring[:, [0, 2, 1]] + [1.1, 0.1, 0.2], ring + [5.0, 0, 0]]).tolist()
    [[True, False]]
    """
    first, owner = _sides(ones)
    second, other_owner = _sides(others)
    over = np.zeros((len(ones), len(others)), dtype=np.int64)
    for number in range(len(others)):
        own = second[other_owner == number]
        for low in range(0, len(first), 4096):
            crossed = _crosses_over(first[low : low + 4096], own).sum(axis=1)
            over[:, number] += np.bincount(owner[low : low + 4096], crossed, len(ones)).astype(
                np.int64
            )
    odd: Bools = over % 2 == 1
    return odd


def _sides(lines: Sequence[Floats]) -> tuple[Floats, np.ndarray]:
    sides = [np.stack([line, np.roll(line, -1, axis=0)], axis=1) @ _TURN for line in lines]
    owner = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    return np.concatenate(sides), owner


def _crosses_over(one: Floats, other: Floats) -> Bools:
    """Return (n, m) whether each of the first segments (n, 2, 3) passes over each of the second."""
    a, b = one[:, None, 0], one[:, None, 1]
    c, d = other[None, :, 0], other[None, :, 1]
    run, way = b - a, d - c
    flat = run[..., 0] * way[..., 1] - run[..., 1] * way[..., 0]
    off = c - a
    with np.errstate(divide="ignore", invalid="ignore"):
        s = (off[..., 0] * way[..., 1] - off[..., 1] * way[..., 0]) / flat
        t = (off[..., 0] * run[..., 1] - off[..., 1] * run[..., 0]) / flat
        above = a[..., 2] + s * run[..., 2] > c[..., 2] + t * way[..., 2]
    met: Bools = (s >= 0.0) & (s < 1.0) & (t >= 0.0) & (t < 1.0) & above
    return met
