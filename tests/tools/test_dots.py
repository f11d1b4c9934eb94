"""The reader of pictures finds the dots of a label that was cut off, and nothing else."""

from __future__ import annotations

import dots
import numpy as np
import pytest

GROUND, LETTER = 60.0, 220.0


def panel():
    """A gray ground."""
    return np.full((80, 200), GROUND)


def dotted(picture, y, x, *, step=3, size=1, count=3):
    """Draw dots side by side."""
    for k in range(count):
        picture[y : y + size, x + k * step : x + k * step + size] = LETTER
    return picture


@pytest.mark.parametrize(("scale", "step", "size"), [(1, 3, 1), (1, 4, 2), (2, 6, 3), (2, 7, 4)])
def test_three_dots_in_a_row_are_found_where_they_stand(scale, step, size):
    found = dots.rows_in(dotted(panel(), 40, 90, step=step, size=size), scale)
    assert found == [pytest.approx(40, abs=size)]


def test_a_grip_of_two_rows_two_dots_and_letters_are_no_cut():
    assert dots.rows_in(dotted(dotted(panel(), 40, 90, count=4), 44, 90, count=4), 1) == []
    assert dots.rows_in(dotted(panel(), 40, 90, count=2), 1) == []
    assert dots.rows_in(dotted(panel(), 40, 90, size=6, step=9), 1) == []
    assert dots.rows_in(panel(), 1) == []


def test_dots_after_digits_and_under_the_corner_of_a_box_are_found():
    picture = dotted(panel(), 40, 90, step=6, size=4)
    picture[40:44, 60:64] = LETTER  # a decimal point
    picture[22:26, 112:116] = LETTER  # a corner
    assert dots.rows_in(picture, 2) == [42]


def test_dots_far_apart_or_unevenly_spaced_are_no_cut():
    assert dots.rows_in(dotted(panel(), 40, 60, step=12), 1) == []
    picture = dotted(panel(), 40, 60, count=2)
    picture[40, 60 + 3 + 6] = LETTER
    assert dots.rows_in(picture, 1) == []
