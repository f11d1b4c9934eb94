"""Escape levels on graphs small enough to be read off by eye."""

from __future__ import annotations

import heapq

import numpy as np
import pytest

from blender_addon.core.bubbles.escape import escapes
from blender_addon.core.bubbles.spaces import Passages


def level_of_each(heights, vents, links=None):
    """Return the level of cells of given heights; a passage is as high as its lower end."""
    count = len(heights)
    links = links or [(k, k + 1) for k in range(count - 1)]
    ends = [(a + 1, b + 1) for a, b in links] + [(0, vent + 1) for vent in vents]
    levels = [min(heights[a], heights[b]) for a, b in links] + [heights[vent] for vent in vents]
    passages = Passages(np.array(ends), np.array(levels, float), np.zeros((len(ends), 2)))
    return escapes(count + 1, passages).level_mm[1:].tolist()


ROW = [10, 2, 9, 6, 8, 3, 5]
LONG = [20, 12, 15, 5, 18, 4, 11, 4, 16, 7]


@pytest.mark.parametrize(
    ("heights", "vents", "expected"),
    [
        (ROW, [0], [10, 2, 2, 2, 2, 2, 2]),
        (ROW, [0, 6], [10, 2, 3, 3, 3, 3, 5]),
        (LONG, [0], [20, 12, 12, 5, 5, 4, 4, 4, 4, 4]),
        (LONG, [0, 9], [20, 12, 12, 5, 5, 4, 4, 4, 7, 7]),
    ],
    ids=["one vent", "two vents", "long row", "long row with two vents"],
)
def test_a_row_of_cells_escapes_over_the_best_of_its_lowest_cells(heights, vents, expected):
    assert level_of_each(heights, vents) == expected  # worked out by hand


def test_air_takes_the_better_of_two_ways_round():
    links = [(0, 1), (0, 2), (1, 3), (2, 3), (3, 4)]
    assert level_of_each([10, 3, 6, 9, 4], [0], links) == [10, 3, 6, 6, 4]  # by hand


def test_what_no_way_reaches_stays_shut():
    level = level_of_each([5, 4, 3], [0], [(1, 2)])
    assert level == [5, -np.inf, -np.inf]


@pytest.mark.parametrize("seed", range(5))
def test_levels_agree_with_a_priority_flood(seed):
    # The slow rule itself, Barnes et al. 2014: pop the highest, lower the neighbours to it.
    rng = np.random.default_rng(seed)
    count = 60
    ends = rng.integers(0, count, (150, 2))
    ends = ends[ends[:, 0] != ends[:, 1]]
    level = rng.integers(1, 20, len(ends)).astype(float)
    beside = [[] for _ in range(count)]
    for (a, b), height in zip(ends.tolist(), level.tolist(), strict=True):
        beside[a].append((b, height))
        beside[b].append((a, height))
    best = np.full(count, -np.inf)
    best[0] = np.inf
    heap = [(-np.inf, 0)]
    while heap:
        negative, node = heapq.heappop(heap)
        for other, height in beside[node]:
            through = min(-negative, height)
            if through > best[other]:
                best[other] = through
                heapq.heappush(heap, (-through, other))
    found = escapes(count, Passages(ends, level, np.zeros((len(ends), 2))))
    np.testing.assert_array_equal(found.level_mm, best)
