"""Heat by class, mass and thickness; sizes along the chain; data that is refused."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from blender_addon.core.catalog.materials import resins
from blender_addon.core.errors import BadSettingError
from blender_addon.core.resin.heat import cooling_s
from blender_addon.core.resin.settings import ResinSettings
from blender_addon.core.resin.shrinkage import (
    left_of,
    linear_percent,
    riser_notices,
    sculpt_of,
    shrinkage_of,
)
from tests import shapes
from tests.core.amounts import resin_of
from tests.core.scans import standing

REFERENCE = Path(__file__).parent.parent.parent / "reference"
AMOUNTS = json.loads((REFERENCE / "amounts.json").read_text(encoding="utf-8"))
HEAT, SHRINKAGE = AMOUNTS["heat"], AMOUNTS["shrinkage"]


@pytest.fixture(scope="module")
def block():
    return standing(shapes.box((80, 80, 100)))


def codes(found):
    return [notice.code for notice in found.warnings]


def test_the_rise_of_the_common_classes_is_heat_by_heat_capacity():
    # groups mol/kg times heat of reaction kJ/mol by heat capacity kJ/(kg K); 25.2 % isocyanate of
    # 42.02 g/mol, mixed 1:1, are 3.0 mol/kg
    rises = [rise for *_, rise in HEAT["mol_kg_kj_mol_kj_kg_k_rise"]]
    for groups, heat, capacity, rise in HEAT["mol_kg_kj_mol_kj_kg_k_rise"]:
        assert groups * heat / capacity == pytest.approx(rise, abs=0.05)
    by_kind = {one.kind: one.rise_k for one in resins()}
    assert by_kind["fast polyurethane"] == rises[0] == ResinSettings().rise_k
    assert by_kind["epoxy"] == pytest.approx(rises[2], abs=1.0)
    assert pytest.approx(3.0, rel=1e-3) == 0.5 * 252 / 42.02


def test_a_layer_cools_by_the_square_of_its_thickness():
    for thick, seconds in HEAT["layer_mm_s"]:
        assert cooling_s(thick) == pytest.approx(seconds, rel=5e-3)


def test_heat_is_told_as_an_upper_bound(block):
    heat = resin_of(block, room_c=25.0).heat
    assert heat.most_c == 25.0 + 123.0
    assert heat.cools_s == pytest.approx(cooling_s(heat.thickest_mm))


def test_fills_of_the_class_need_no_warning(block):
    for kind, limit in (("fast polyurethane", 25.0), ("slow polyurethane", 50.0)):
        found = resin_of(block, kind=kind)
        assert codes(found) == []
        assert max(fill.thick_mm for fill in found.fills) <= limit * (1 + 1e-6)
        assert found.heat.limit_mm == limit


def test_a_fill_deeper_than_is_common_is_warned_of_with_mass_depth_and_heat(block):
    found = resin_of(block, deepest_fill_mm=60.0, stage_g=1000.0)
    (notice,) = found.warnings
    assert notice.code == "resin_heat"
    for word in ("25.0 mm", "143 °C", "data sheet", "fast polyurethane"):
        assert word in notice.text
    worst = max(found.fills, key=lambda fill: fill.thick_mm)
    assert f"One fill of {worst.g:.0f} g is {worst.deep_mm:.1f} mm deep" in notice.text
    assert f"a layer of {worst.thick_mm:.1f} mm" in notice.text


def test_a_class_whose_mass_runs_away_asks_for_the_data_sheets_limit(block):
    for kind in ("epoxy", "polyester"):
        assert "no_fill_limit" in codes(resin_of(block, kind=kind, shrink_percent=0.3))
        told = resin_of(block, kind=kind, shrink_percent=0.3, deepest_fill_mm=10.0)
        assert "no_fill_limit" not in codes(told)


def test_a_shell_thicker_than_one_pour_is_warned_of(block):
    found = resin_of(block, kind="epoxy", shell_mm=12.0, deepest_fill_mm=10.0, coat_mm=3.0)
    assert "thick_shell" in codes(found)


def test_what_shrinks_multiplies():
    assert 100 / left_of([12.0]) == pytest.approx(SHRINKAGE["wanted_100_ceramic_12"], abs=5e-4)
    assert 100 / left_of([6.0, 7.0]) == pytest.approx(SHRINKAGE["wanted_100_6_then_7"], abs=5e-4)
    row = SHRINKAGE["rubber_0_3_resin_0_4"]
    left = left_of([0.3, 0.4])
    assert left == pytest.approx(row["left"], abs=5e-7)
    assert 250 * left == pytest.approx(row["of_250_mm"], abs=5e-4)
    assert 250 / left == pytest.approx(row["for_250_mm"], abs=5e-4)
    assert linear_percent(2.0) == pytest.approx(SHRINKAGE["two_percent_by_volume"], abs=5e-5)


def test_each_step_has_its_sizes_and_the_last_one_gives_back_what_was_wanted():
    settings = ResinSettings(
        shrink_percent=0.4, plaster_percent=-0.2, ceramic_percent=12.0, opening_mm=60.0,
        wanted_height_mm=250.0, wanted_width_mm=100.0, wanted_opening_mm=50.0,
    )  # fmt: skip
    steps = shrinkage_of((120.0, 90.0, 300.0), 0.3, settings)
    assert [step.name for step in steps] == ["clay", "resin copy", "plaster mold", "ceramic"]
    shares = [1.0, 0.997 * 0.996, 0.997 * 0.996 * 1.002, 0.997 * 0.996 * 1.002 * 0.88]
    for step, share in zip(steps, shares, strict=True):
        assert step.by_clay == pytest.approx(share)
        assert step.size_mm == pytest.approx((120 * share, 90 * share, 300 * share))
        assert step.opening_mm == pytest.approx(60 * share)
    sculpt = sculpt_of(steps[-1], settings)
    assert sculpt.height_mm * shares[-1] == pytest.approx(250.0)
    assert sculpt.width_mm * shares[-1] == pytest.approx(100.0)
    assert sculpt.opening_mm * shares[-1] == pytest.approx(50.0)
    assert sculpt.times == pytest.approx(1 / shares[-1])


def test_a_shrink_by_volume_is_a_third_of_it_in_length():
    size = (100.0, 100.0, 100.0)
    by_volume = shrinkage_of(size, 0.0, ResinSettings(shrink_percent=2.0, shrink_by="volume"))[1]
    assert by_volume.by_clay**3 == pytest.approx(0.98)
    assert by_volume.size_mm[2] == pytest.approx(100 - SHRINKAGE["two_percent_by_volume"], abs=1e-4)


def test_what_nobody_asked_for_is_left_out(block):
    found = resin_of(block)
    assert [step.name for step in found.shrinkage] == ["clay", "resin copy"]
    sculpt = found.sculpt
    assert (sculpt.height_mm, sculpt.width_mm, sculpt.opening_mm) == (None, None, None)
    assert found.shrinkage[0].opening_mm is None


def test_height_lost_against_the_riser():
    for rubber, resin, lost in SHRINKAGE["lost_of_300_mm"]:
        settings = ResinSettings(shrink_percent=resin)
        copy = shrinkage_of((1.0, 1.0, 300.0), rubber, settings)[1]
        assert 300 * (1 - copy.by_clay) == pytest.approx(lost, abs=5e-3)
        # 3 mm of sanding besides: common practice, no source
        found = [notice.code for notice in riser_notices(300.0, copy, 6.0)]
        assert found == ([] if lost < 3.0 else ["low_riser"])


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"pot_life_min": 1.0, "mix_min": 1.0}, "pot_life_min"),
        ({"pot_life_min": 2.0, "mix_min": 3.0}, "pot_life_min"),
        ({"density_kg_m3": 0.0}, "density_kg_m3"),
        ({"a_parts": 0.0}, "a_parts"),
        ({"b_parts": -1.0}, "b_parts"),
        ({"shell_mm": 0.0}, "shell_mm"),
        ({"shell_mm": -2.0}, "shell_mm"),
        ({"stage_g": 0.0}, "stage_g"),
        ({"kind": "wax"}, "kind"),
        ({"shrink_percent": -1.0}, "shrink_percent"),
        ({"wanted_height_mm": -5.0}, "wanted_height_mm"),
        ({"mix_by": "volume", "a_density_kg_m3": 1000.0}, "b_density_kg_m3"),
        ({"lean_deg": 90.0}, "lean_deg"),
        ({"rise_k": math.inf}, "rise_k"),
    ],
)
def test_zero_negative_missing_or_contradictory_data_are_refused_at_the_field(settings, name):
    with pytest.raises(BadSettingError) as refused:
        ResinSettings(**settings)
    assert refused.value.name == name
