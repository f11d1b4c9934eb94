"""Bands laid flat: cylinder, cone and what may not change."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.geometry.unrolling import unrolled


def ring(radius, z, count=720, share=1.0):
    angle = share * np.linspace(0, 2 * np.pi, count + 1)
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), np.full(count + 1, z)])


def test_a_tube_becomes_a_rectangle_as_long_as_its_girth():
    low, high = unrolled(ring(20, 0), ring(20, 35))
    assert low[:, 1] == pytest.approx(0, abs=1e-9)
    assert high[:, 1] == pytest.approx(35, abs=1e-9)
    # chords: shorter than the arc by less than 1e-5 of it
    assert 2 * np.pi * 20 * (1 - 1e-5) < low[-1, 0] < 2 * np.pi * 20


def test_a_cone_becomes_a_sector_of_the_angle_of_the_books():
    # radii 10 and 40, 40 high: slant 50; the sector spans 360 x 30 / 50 degrees, any table of
    # solids
    low, high = unrolled(ring(10, 0), ring(40, 40))
    first, last = high[0] - low[0], high[-1] - low[-1]
    apex = low[0] - first / 50 * (50 / 3)
    assert np.hypot(*(low - apex).T) == pytest.approx(50 / 3, rel=1e-4)
    assert np.hypot(*(high - apex).T) == pytest.approx(200 / 3, rel=1e-4)
    turn = np.degrees(np.arctan2(last[0] * first[1] - last[1] * first[0], last @ first)) % 360
    assert turn == pytest.approx(216, abs=0.01)


@pytest.mark.parametrize("seed", range(3))
def test_no_length_on_a_bent_band_changes(seed):
    random = np.random.default_rng(seed)
    plan = np.cumsum(random.normal(size=(12, 2)) * 10, axis=0)
    low = np.column_stack([plan, np.zeros(12)])
    high = low + [0.0, 0.0, 25.0]
    flat_low, flat_high = unrolled(low, high)
    for flat, solid in ((flat_low, low), (flat_high, high)):
        steps = np.linalg.norm(np.diff(flat, axis=0), axis=1)
        assert steps == pytest.approx(np.linalg.norm(np.diff(solid, axis=0), axis=1))
    across = np.linalg.norm(flat_high[1:] - flat_low[:-1], axis=1)
    assert across == pytest.approx(np.linalg.norm(high[1:] - low[:-1], axis=1))
