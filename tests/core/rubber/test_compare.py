"""Cases are compared by the rubber that each takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blender_addon.core.rubber.compare import compared
from tests.core.layouts import layout


def test_every_case_has_its_mass_and_its_cost_by_hand():
    made = layout()
    other = replace(made.case.choices[0], rubber_ml=1300.0, tube_price=4.0)
    taken = replace(other, name="PVC 100", rubber_ml=650.0, tube_price=3.0)
    case = replace(made.case, choices=(other,), taken=taken)
    rubber = replace(made.rubber, volume_ml=650.0, mass_g=780.0, cost=39.0)
    first, second = compared(case, rubber)
    assert (first.name, first.taken, second.taken) == ("PVC 100", True, False)
    # 780 g with the spare for 650 ml at 39: 0.05 a gram, the tube on top
    assert (first.mass_g, first.cost) == pytest.approx((780.0, 42.0))
    assert (first.saved_g, second.saved_g) == pytest.approx((0.0, -780.0))  # both are tubes
    assert (second.mass_g, second.cost) == pytest.approx((1560.0, 82.0))


def test_a_printed_case_saves_against_the_smallest_tube_that_does():
    made = layout()
    tubes = [replace(made.case.choices[0], name=f"{ml}", rubber_ml=ml) for ml in (900.0, 700.0)]
    printed = replace(tubes[0], name="oval", kind="printed oval", rubber_ml=400.0)
    case = replace(made.case, choices=(printed, tubes[1]), taken=tubes[0])
    found = {one.name: one.saved_g for one in compared(case, made.rubber)}
    g_per_ml = made.rubber.mass_g / made.rubber.volume_ml
    assert found["oval"] == pytest.approx(300.0 * g_per_ml)
    alone = replace(made.case, choices=(), taken=printed)
    assert [one.saved_g for one in compared(alone, made.rubber)] == [0.0]


def test_without_a_price_there_is_no_cost():
    made = layout()
    (only,) = compared(made.case, replace(made.rubber, cost=None))
    assert only.cost == 0.0
    assert not only.taken
