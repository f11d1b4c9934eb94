"""Grams on the scale: whole steps that add up, in as few cups as it takes."""

from __future__ import annotations

import math
from decimal import Decimal

import numpy as np
import pytest

from blender_addon.core.catalog.sheets import RubberSheet
from blender_addon.core.rubber.mix import mix_of
from blender_addon.core.rubber.settings import RubberSettings
from blender_addon.core.rubber.weigh import (
    batch_of,
    batches_within,
    coarse_scale,
    mass_of,
    true_batch_of,
)


@pytest.mark.parametrize(("a", "b"), [(10.0, 1.0), (1.0, 1.0), (100.0, 3.0), (100.0, 47.0)])
@pytest.mark.parametrize("step_g", [0.01, 0.1, 0.5, 1.0, 5.0])
@pytest.mark.parametrize("mass_g", [0.4, 37.2, 999.95, 2181.84, 12345.6])
def test_a_and_b_are_whole_steps_and_add_up_to_the_mass_exactly(a, b, step_g, mass_g):
    sheet = RubberSheet(a_parts=a, b_parts=b)
    batches = batches_within(mass_g, sheet, step_g, 5000.0)
    step = Decimal(str(step_g))
    parts = [Decimal(str(part)) for one in batches for part in (one.a_g, one.b_g)]
    assert all(part % step == 0 for part in parts)
    assert sum(parts) == Decimal(str(mass_of(batches)))
    assert Decimal(str(mass_g)) <= sum(parts) < Decimal(str(mass_g)) + step
    assert sum(Decimal(str(one.g)) for one in batches) == sum(parts)


@pytest.mark.parametrize(("a", "b"), [(10.0, 1.0), (100.0, 3.0)])
def test_no_part_is_farther_than_half_a_step_from_the_ratio(a, b):
    for one in batches_within(23456.0, RubberSheet(a_parts=a, b_parts=b), 1.0, 5000.0):
        assert one.a_g == pytest.approx(one.g * a / (a + b), abs=0.5)
        assert one.b_g == pytest.approx(one.g * b / (a + b), abs=0.5)


@pytest.mark.parametrize("mass_g", [10.0, 4999.5, 5000.0, 5000.4, 23456.0])
@pytest.mark.parametrize("most_g", [54.0, 5000.0])
def test_batches_differ_by_a_step_keep_the_limit_and_are_the_fewest(mass_g, most_g):
    weights = [one.g for one in batches_within(mass_g, RubberSheet(), 1.0, most_g)]
    assert max(weights) - min(weights) <= 1.0
    assert max(weights) <= most_g
    assert len(weights) == math.ceil(math.ceil(mass_g) / most_g)


def test_parts_by_volume_are_weighed_by_their_densities():
    # by hand: 3 ml at 1.2 and 1 ml at 0.9 g/ml are 4.5 g, of which A 3.6; they mix to 1.125 g/ml
    sheet = RubberSheet(
        density_kg_m3=1125.0, mix_by="volume", a_parts=3.0, b_parts=1.0,
        a_density_kg_m3=1200.0, b_density_kg_m3=900.0,
    )  # fmt: skip
    batch = batch_of(4500.0, sheet)
    assert (batch.a_g, batch.b_g) == (3600.0, 900.0)
    assert (batch.a_ml, batch.b_ml) == (3000.0, 1000.0)
    assert batch.cup_ml == pytest.approx(4000.0)


def test_a_ratio_by_mass_tells_no_volumes():
    batch = batch_of(100.0, RubberSheet())
    assert (batch.a_ml, batch.b_ml) == (None, None)


def test_a_scale_too_coarse_for_the_hardener_is_warned_of():
    # 3 parts of 103 of 60 g are 1.75 g: on a scale of 1 g they become 2, 14 % too much
    sheet = RubberSheet(a_parts=100.0, b_parts=3.0)
    (notice,) = coarse_scale((batch_of(60.0, sheet),), sheet, 1.0)
    assert notice.code == "coarse_scale"
    assert "14 %" in notice.text
    assert coarse_scale((batch_of(60.0, sheet, 0.01),), sheet, 0.01) == ()


@pytest.mark.parametrize(("a", "b"), [(10, 1), (100, 3), (1, 1), (100, 90), (5, 2), (1000, 0.5)])
@pytest.mark.parametrize("mass_g", [0.1, 2.0, 21.0, 57.0, 950.0])
@pytest.mark.parametrize("step_g", [1.0, 0.1])
def test_a_small_batch_keeps_the_ratio_and_is_no_larger_than_that_asks_for(a, b, mass_g, step_g):
    sheet = RubberSheet(a_parts=a, b_parts=b)
    found = true_batch_of(mass_g, sheet, step_g)
    assert found.g >= mass_g - 1e-9
    assert found.b_g >= step_g
    assert abs(found.b_g * a / (found.a_g * b) - 1) < 0.045  # 2 % of the whole's part: of A by B
    # by trying every weight from the least on: none before it keeps to 2 %
    share, steps = b / (a + b), round(found.g / step_g)
    least = max(int(np.ceil(mass_g / step_g - 1e-6)), 1)
    tried = np.arange(least, steps)
    assert (np.abs(np.round(tried * share) / (tried * share) - 1.0) > 0.02).all()


def test_what_is_brushed_on_is_never_without_its_hardener():
    # 2.2 g at ten to one on a scale of whole grams would be 2 g and nothing
    coat = mix_of(2000.0, 2.0, RubberSettings(a_parts=10.0, b_parts=1.0)).coat
    assert (coat.a_g, coat.b_g) == (10.0, 1.0)
