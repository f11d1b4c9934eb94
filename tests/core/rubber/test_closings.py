"""When pockets close while the rubber rises."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from blender_addon.core.bubbles.result import Pocket
from blender_addon.core.rubber.amount import rubber_volume_ml
from blender_addon.core.rubber.closings import closings_of
from tests import shapes
from tests.core.cases import cased


def pocket_at(z):
    return Pocket(1.0, 2.0, 3.0, (0.0, 0.0, z + 2.0), (0.0, 0.0, z), "underside")


def test_pockets_close_from_below_at_the_rubber_that_a_hand_sum_gives():
    # bore 100, bar of 40 on a riser of 5 mm: what stands below z is the ring round both.
    case = cased(shapes.cylinder(20.0, 60.0, 512), riser_mm=5.0, at=(0, 0), inner_diameter_mm=100.0)
    first, second = closings_of([pocket_at(45.0), pocket_at(3.0)], case)
    assert (first.pocket, first.level_z_mm) == (1, 3.0)
    assert (second.pocket, second.level_z_mm) == (0, 45.0)
    assert first.rubber_ml == pytest.approx(pi * (50.0**2 - 20.0**2) * 3.0 / 1000.0, rel=1e-3)
    assert second.rubber_ml == pytest.approx(pi * (50.0**2 - 20.0**2) * 45.0 / 1000.0, rel=1e-3)


def test_at_its_own_level_all_the_rubber_is_poured():
    case = cased(shapes.sphere(20.0, 128), riser_mm=5.0, at=(0, 0))
    (closing,) = closings_of([pocket_at(case.level_z_mm)], case)
    assert closing.rubber_ml == pytest.approx(rubber_volume_ml(case), rel=1e-9)


def test_without_pockets_nothing_closes():
    case = cased(shapes.box((20.0, 20.0, 20.0)))
    assert closings_of([], case) == ()


def test_what_is_shut_from_the_start_does_not_close():
    case = cased(shapes.box((20.0, 20.0, 20.0)))
    shut = [replace(pocket_at(10.0), kind=kind) for kind in ("sealed", "under foot")]
    assert [one.pocket for one in closings_of([*shut, pocket_at(12.0)], case)] == [2]
