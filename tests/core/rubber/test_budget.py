"""Pot life: a plain yes or no, with rubber that thickens while it is poured."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from scipy.integrate import quad

from blender_addon.core.rubber.budget import budget_of, pot_life_notices, thickening_pour_s

REFERENCE = Path(__file__).parent.parent.parent / "reference"
THICKENING = json.loads((REFERENCE / "amounts.json").read_text(encoding="utf-8"))["thickening"]


def test_what_gets_through_while_the_viscosity_doubles_over_the_pot_life():
    for share, usable in THICKENING["usable_share_of_pot_life"]:
        assert thickening_pour_s(usable * 1800, 0, 1800) == pytest.approx(share * 1800, rel=2e-4)


def test_a_later_start_pours_slower_as_the_integral_of_the_flow_says():
    took = thickening_pour_s(300.0, 900.0, 1800.0)
    through, _ = quad(lambda t: 2 ** (-t / 1800.0), 900.0, 900.0 + took)
    assert through == pytest.approx(300.0, rel=1e-9)
    assert took > 300.0


def test_rubber_that_sets_in_the_funnel_never_gets_through():
    budget = budget_of(0.0, 0.0, 1800.0 / math.log(2), 1800.0)
    assert budget.pour_s == math.inf
    assert budget.fits == "no"
    (notice,) = pot_life_notices(budget, 1)
    assert "sets before" in notice.text
    assert "inf" not in notice.text


@pytest.mark.parametrize(
    ("life_s", "fits", "codes"),
    [(2000, "yes", []), (1000, "yes, but tight", ["pot_life_tight"]), (600, "no", ["pot_life"])],
)
def test_half_of_the_pot_life_is_easy_and_over_four_fifths_too_late(life_s, fits, codes):
    # common practice, no source; mixing 200, degassing 100, pouring 200 and what it thickens
    budget = budget_of(200.0, 100.0, 200.0, life_s)
    assert budget.fits == fits
    assert [notice.code for notice in pot_life_notices(budget, 1)] == codes
    assert budget.needs_s == 300.0 + thickening_pour_s(200.0, 300.0, life_s)


def test_the_warning_adds_the_times_up_and_tells_of_batches():
    (notice,) = pot_life_notices(budget_of(200.0, 100.0, 200.0, 1000.0), 3)
    assert "one batch" in notice.text
    assert "3 min + 2 min + 4 min" in notice.text
