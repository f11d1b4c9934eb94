"""Pressure and vacuum: Boyle's law, what fits, and never beyond the rated limit."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from blender_addon.core.catalog.pots import Pot
from blender_addon.core.rubber.gas import growth_under_vacuum, shrunk_bubble
from blender_addon.core.rubber.pots import fits_of, how_it_fits, pot_notices, vessel_room_ml
from blender_addon.core.rubber.settings import RubberSettings

REFERENCE = Path(__file__).parent.parent.parent / "reference"
AMOUNTS = json.loads((REFERENCE / "amounts.json").read_text(encoding="utf-8"))
AIR_KPA = 101.325


def test_air_grows_under_vacuum_as_boyle_says():
    table = AMOUNTS["vacuum_growth"]
    for inhg, times in table["rows"]:
        grown = growth_under_vacuum(inhg * table["kpa_per_inhg"], AIR_KPA)
        assert grown == pytest.approx(times, rel=5e-4)  # four digits
    thin_air = growth_under_vacuum(29.0 * table["kpa_per_inhg"], 29.5 * table["kpa_per_inhg"])
    assert thin_air == pytest.approx(table["air_29_5_inhg_growth_at_29"])


def test_a_bubble_shrinks_in_the_pot_as_boyle_says():
    table = AMOUNTS["pot_bubble"]
    for psi, volume, diameter in table["psi_volume_diameter"]:
        share = shrunk_bubble(psi * table["kpa_per_psi"], AIR_KPA)
        assert share == pytest.approx(diameter, abs=6e-5)
        assert share**3 == pytest.approx(volume, abs=6e-5)


def test_the_weight_of_the_rubber_shrinks_a_bubble_hardly_at_all():
    # under 300 mm of 1200 kg/m3 its volume is 0.9663 of that at the top, closed form
    assert shrunk_bubble(1200 * 9.80665 * 0.3 / 1000, AIR_KPA) ** 3 == pytest.approx(
        0.9663, abs=5e-5
    )


@pytest.mark.parametrize(
    ("across", "high", "fits"),
    [
        (290, 390, "upright"),
        (291, 100, "no"),
        (200, 391, "no"),  # lying it is hypot(200, 391) long
        (100, 391, "no"),
        (90, 270, "upright"),
    ],
)
def test_a_block_stands_in_a_deep_pot_with_5_mm_clear_all_round(across, high, fits):
    assert how_it_fits(across, high, Pot("a", "pressure", 300.0, 400.0, 300.0)) == fits


def test_a_block_too_high_to_stand_lies_across_the_widest_place():
    wide = Pot("a", "pressure", 410.0, 200.0, 300.0)
    # a rectangle of 240 x 320 mm has a diagonal of 400 mm, by hand
    assert how_it_fits(190.0, math.sqrt(400**2 - 190**2), wide) == "lying"
    assert how_it_fits(190.0, math.sqrt(400**2 - 190**2) + 0.1, wide) == "no"
    assert how_it_fits(191.0, 300.0, wide) == "no"


def test_nothing_is_driven_beyond_its_rated_limit():
    settings = RubberSettings(pressure_kpa=400.0, vacuum_kpa=98.0)
    listed = [Pot("weak", "pressure", 300.0, 300.0, 250.0), Pot("soft", "vacuum", 300, 300, 90.0)]
    fits = fits_of(listed, (160.0, 200.0), 4000.0, settings)
    assert [one.used_kpa for one in fits] == [250.0, 90.0]
    assert fits[0].bubble_share == shrunk_bubble(250.0, AIR_KPA)
    notices = pot_notices(fits, (160.0, 200.0), settings)
    assert [one.code for one in notices] == ["pot_limit", "pot_limit"]
    assert "weak is rated for 250 kPa, less than the 400 kPa" in notices[0].text
    assert "soft is rated for 90 kPa, less than the 98 kPa" in notices[1].text


def test_a_pot_that_may_more_is_driven_to_what_is_asked_for():
    settings = RubberSettings(pressure_kpa=275.0)
    (fit,) = fits_of([Pot("a", "pressure", 300.0, 300.0, 500.0)], (160.0, 200.0), 1.0, settings)
    assert fit.used_kpa == 275.0
    assert pot_notices((fit,), (160.0, 200.0), settings) == ()


def test_a_chamber_must_take_the_vessel_of_one_batch():
    chamber = Pot("bell", "vacuum", 210.0, 260.0, 98.2)
    room_ml = vessel_room_ml(chamber)
    assert room_ml == pytest.approx(math.pi * 100**2 * 250 / 1000)  # closed form
    fits = [
        fits_of([chamber], (10.0, 10.0), vessel, RubberSettings())[0].fits
        for vessel in (room_ml, room_ml + 1.0)
    ]
    assert fits == ["upright", "no"]


def test_a_block_that_fits_no_pot_is_told_of():
    fits = fits_of(
        [Pot("a", "pressure", 150.0, 300.0, 300.0)], (160.0, 200.0), 1.0, RubberSettings()
    )
    (notice,) = pot_notices(fits, (160.0, 200.0), RubberSettings())
    assert notice.code == "no_pot"
    assert "160.0 mm across and 200.0 mm high" in notice.text
    assert pot_notices((), (160.0, 200.0), RubberSettings()) == ()
