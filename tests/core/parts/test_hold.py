"""The flanges hold two litres of rubber by the formulas of handbooks, with the safety factor."""

from __future__ import annotations

import math

import pytest

from blender_addon.core.errors import BadSettingError
from blender_addon.core.parts.hold import bolt_length_mm, hold_of, widest_pitch_mm
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.parts.split import split_of
from blender_addon.core.rubber.forces import forces_at
from tests import shapes
from tests.core.cases import cased
from tests.core.parts.made import case_of


def held(case, density_kg_m3=1200.0, **settings):
    chosen = PartsSettings(**settings)
    forces = forces_at(case.bore, case.level_z_mm, 1000.0, density_kg_m3)
    return hold_of(case, forces, split_of(case, chosen), chosen)


def test_the_bolts_take_the_pull_of_the_line_at_the_foot():
    # hydrostatics by hand: 1200 kg/m3, the level at 226.35 mm, the flange from 6.5 mm up, r 80
    case = case_of("usual")
    found = held(case)
    line = 1200 * 9.80665e-9 * (226.35 - 6.5) * 80
    apart = found.heights_mm[1] - found.heights_mm[0]
    assert found.pull_each_n == pytest.approx(line * apart, rel=1e-3)
    # Roark, 7th ed., table 8.1 case 2d: ends fixed, even load; 16 mm wide and 5 mm thick
    assert found.stress_mpa == pytest.approx(line * apart**2 / 12 / (16 * 25 / 6), rel=1e-3)
    inertia = 16 * 125 / 12
    opening = 2 * line * apart**4 / (384 * 1500 * inertia)
    assert found.opening_mm == pytest.approx(opening, rel=1e-3)
    assert 2 * found.stress_mpa < 5.0  # twice the pull within what printed plastic is trusted with
    assert found.opening_mm < 0.05


@pytest.mark.parametrize("thickness", [2.0, 3.0, 5.0, 8.0])
@pytest.mark.parametrize("name", ["usual", "tall", "oval"])
def test_a_thinner_flange_gets_more_bolts_and_never_more_than_it_bears(name, thickness):
    found = held(case_of(name), flange_thickness_mm=thickness, seam="plain", bolt_pitch_mm=300.0)
    assert found.stress_mpa <= 5.0 / 2 + 1e-9
    assert found.opening_mm <= 0.05 + 1e-9
    assert found.count == found.seams * len(found.heights_mm)


def test_heavier_rubber_wants_bolts_nearer_to_each_other():
    case = case_of("tall")
    light, heavy = (
        held(case, density, flange_thickness_mm=3.0, bolt_pitch_mm=300.0)
        for density in (1000.0, 3000.0)
    )
    assert len(heavy.heights_mm) > len(light.heights_mm)


def test_the_widest_pitch_is_where_stress_or_opening_reaches_its_limit():
    for thickness in (2.0, 20.0):
        settings = PartsSettings(flange_thickness_mm=thickness)
        pitch = widest_pitch_mm(0.3, settings)
        stress = 2 * 0.3 * pitch**2 / 12 / (16 * thickness**2 / 6)
        opening = 2 * 0.3 * pitch**4 / (384 * 1500 * 16 * thickness**3 / 12)
        assert max(stress / 5.0, opening / 0.05) == pytest.approx(1.0)
    assert widest_pitch_mm(0.0, PartsSettings()) == math.inf


def test_every_ring_is_held_by_its_own_bolts():
    found = held(case_of("tall"), bed_z_mm=200.0)
    height = case_of("tall").height_mm + 2
    rings = math.ceil(height / 198)
    for k in range(rings):
        low, high = -2 + height * k / rings, -2 + height * (k + 1) / rings
        assert sum(low < z < high for z in found.heights_mm) >= 2


def test_flanges_that_no_bolts_would_hold_are_refused():
    case = cased(shapes.cylinder(120, 2300), inner_diameter_mm=320.0)
    with pytest.raises(BadSettingError, match="gape or break") as caught:
        held(case, 9000.0, flange_thickness_mm=2.0, flange_mm=14.0, seam="plain", bolt="M6")
    assert caught.value.name == "parts.flange_thickness_mm"


@pytest.mark.parametrize(
    ("bolt", "thickness", "length"),
    [("M3", 5.0, 16), ("M4", 5.0, 20), ("M5", 8.0, 25), ("M6", 20.0, 55)],
)
def test_the_bolt_is_long_enough_for_flanges_washers_nut_and_two_turns(bolt, thickness, length):
    # by hand: M3 10 + 1 + 2.4 + 1 = 14.4; M4 16.2; M5 16 + 2 + 4.7 + 1.6 = 24.3; M6 50.4
    found = bolt_length_mm(PartsSettings(bolt=bolt, flange_thickness_mm=thickness))
    assert found == length
