"""Amounts, batches, forces and times against hand sums, integrals and outside values."""

from __future__ import annotations

import dataclasses
import json
import math
from pathlib import Path

import manifold3d
import numpy as np
import pytest

from blender_addon.core.case.bore import round_bore
from blender_addon.core.errors import BadSettingError, UnusableMeshError
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.rubber.amount import outline_area_mm2
from blender_addon.core.rubber.forces import forces_at
from blender_addon.core.rubber.pour import (
    flow_ml_s,
    pour_time_s,
    throat_resistance_pa_s_m3,
)
from blender_addon.core.rubber.settings import RubberSettings
from blender_addon.core.rubber.weigh import batch_of
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.amounts import rubber_of
from tests.core.cases import airless, cased
from tests.core.scans import bunny

REFERENCE = Path(__file__).parent.parent.parent / "reference"
HYDROSTATICS = json.loads((REFERENCE / "hydrostatics.json").read_text(encoding="utf-8"))
FLOW = json.loads((REFERENCE / "flow.json").read_text(encoding="utf-8"))


def made(case, coat_g=0.0, **settings):
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    bubbles = dataclasses.replace(airless(), prebrush_g=coat_g)
    return rubber_of(bubbles, case, funnel, **settings)


def test_a_box_in_a_tube_by_hand():
    # bore 160, level 5 + 100 + 20; box 60 x 40 x 100 on a riser of its own plan, 5 mm high
    case = cased(shapes.box((60, 40, 100)), riser_mm=5.0, at=(0, 0))
    rubber = made(case, density_kg_m3=1200.0)
    by_hand = math.pi * 80**2 * 125 / 1000 - 60 * 40 * 105 / 1000
    assert rubber.volume_ml == pytest.approx(by_hand, rel=1e-12)
    assert rubber.mix_ml == pytest.approx(by_hand * 1.1, rel=1e-12)
    assert rubber.mass_g == math.ceil(by_hand * 1.1 * 1.2)
    assert rubber.level_z_mm == 125
    assert rubber.forces.uplift_n == pytest.approx(0.24e-3 * 1200 * 9.80665, rel=1e-12)
    assert rubber.pot_life_s == 1800


def test_the_sum_on_paper():
    row = HYDROSTATICS["rubber_by_hand"]
    case = cased(shapes.box((100, 100, 120)), riser_mm=0.0, cover_mm=156.0, at=(0, 0))
    rubber = made(case, density_kg_m3=1200.0, spare_percent=0.0)
    assert rubber.level_z_mm == row["level_mm"]
    assert rubber.volume_ml == pytest.approx(row["volume_ml"], abs=0.5)
    assert rubber.mass_g == pytest.approx(row["mass_g"], abs=1.0)


@pytest.mark.parametrize("shift", [(0.0, 0.0), (3.0, -9.0)])
def test_what_a_boolean_of_solids_leaves_is_the_rubber(shift):
    ring = shapes.torus(30, 12, 64)
    case = cased(ring, at=shift, outline=(np.array([[20, 0], [32, 0], [32, 9], [20, 9.0]]),))
    bore = manifold3d.Manifold.cylinder(case.level_z_mm, 80, 80, 2048)
    riser = manifold3d.CrossSection([case.riser_outline[0].copy()]).extrude(case.riser_mm)
    left_ml = (bore - to_solid(case.master) - riser).volume() / 1000
    assert made(case).volume_ml == pytest.approx(left_ml, rel=1e-4)


def test_an_outline_with_a_hole():
    outer, hole = shapes_ring(40, 400), shapes_ring(10, 400)[::-1]
    area = outline_area_mm2([outer + [300, -200], hole + [305, -190]])
    exact = math.pi * (40**2 - 10**2)
    assert exact * (1 - 1e-4) < area < exact  # inscribed polygons hold less
    assert outline_area_mm2([]) == 0


def shapes_ring(radius, count):
    angle = 2 * np.pi * np.arange(count) / count
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


@pytest.mark.parametrize("cup_ml", [50.0, 5000.0])
@pytest.mark.parametrize("scale_most_g", [400.0, 5000.0])
def test_batches_fit_cup_and_scale_and_add_up(cup_ml, scale_most_g):
    case = cased(shapes.box((60, 40, 100)), at=(0, 0))
    rubber = made(case, cup_ml=cup_ml, scale_most_g=scale_most_g)
    assert max(one.cup_ml for one in rubber.batches) <= cup_ml
    assert max(one.g for one in rubber.batches) <= scale_most_g
    assert sum(one.g for one in rubber.batches) == rubber.mass_g
    assert 0.0 <= rubber.mass_g - rubber.mix_ml * 1.08 < 1.0


def test_parts_by_weight_as_on_paper():
    sheet = HYDROSTATICS["mix_by_hand_g"]
    mass_g = sheet["volume_ml"] * 1.2
    for a, b, a_g, b_g in sheet["by_parts"]:
        batch = batch_of(mass_g, RubberSettings(a_parts=a, b_parts=b), 0.1)
        assert (batch.a_g, batch.b_g) == pytest.approx((a_g, b_g), abs=0.06)


def test_the_brushed_coat_is_not_poured_again():
    case = cased(shapes.box((60, 40, 100)), at=(0, 0))
    bare = made(case)
    brushed = made(case, coat_g=108.0)  # 100 ml of 1.08 g/ml, by hand
    assert bare.coat is None
    assert brushed.volume_ml == bare.volume_ml
    assert brushed.mix_ml == pytest.approx(bare.mix_ml - 110.0)
    assert brushed.coat.g == 119.0  # 118.8 with the spare
    assert brushed.mass_g + brushed.coat.g == pytest.approx(bare.mass_g, abs=2.0)


def test_a_coat_thicker_than_the_room_is_told_of_and_still_weighed():
    case = cased(shapes.box((60, 40, 100)), at=(0, 0))
    rubber = made(case, coat_g=1e6)
    assert "thick_coat" in [notice.code for notice in rubber.warnings]
    assert rubber.mix_ml == pytest.approx(0.0, abs=1e-9)
    assert len(rubber.batches) == 1
    assert not made(case, coat_g=50.0).warnings


def test_old_chunks_save_their_volume_and_no_more_than_a_quarter():
    case = cased(shapes.box((60, 40, 100)), at=(0, 0))
    bare = made(case, spare_percent=0.0)
    some = made(case, spare_percent=0.0, chunks_g=432.0)  # 400 ml of 1.08 g/ml
    assert some.mix_ml == pytest.approx(bare.mix_ml - 400.0)
    assert not some.warnings
    # the cap: common practice, no source
    many = made(case, spare_percent=0.0, chunks_g=50000.0)
    assert many.mix_ml == pytest.approx(0.75 * bare.mix_ml)
    assert many.chunks_most_g == pytest.approx(0.25 * bare.mix_ml * 1.08)
    assert [notice.code for notice in many.warnings] == ["chunks"]


def test_cost_is_of_all_that_is_weighed_out():
    case = cased(shapes.box((60, 40, 100)), at=(0, 0))
    rubber = made(case, price_per_kg=30.0, coat_g=108.0)
    assert rubber.cost == pytest.approx(0.03 * (rubber.mass_g + rubber.coat.g))
    assert made(case).cost is None


def test_the_block_with_the_clay_in_it_is_what_must_be_lifted():
    case = cased(shapes.box((60, 40, 100)), at=(0, 0), riser_mm=5.0)
    block = made(case, master_kg_m3=1700.0).block
    assert (block.across_mm, block.high_mm) == (160.0, 125.0)
    by_hand_ml = math.pi * 80**2 * 125 / 1000 - 60 * 40 * 105 / 1000
    assert block.rubber_g == pytest.approx(by_hand_ml * 1.08)
    assert block.lift_g == pytest.approx(by_hand_ml * 1.08 + 240 * 1.7)


def test_the_vessel_for_degassing_holds_one_batch_four_times():
    rubber = made(cased(shapes.cylinder(40, 150), at=(0, -5)), cup_ml=700.0)
    assert rubber.vessel_ml == pytest.approx(4.0 * rubber.batches[0].cup_ml)
    assert rubber.vessel_ml <= 2800.0
    assert rubber.growth == pytest.approx(101.325 / (101.325 - 98.2))


@pytest.mark.parametrize(
    ("settings", "name"),
    [
        ({"pot_life_min": 8.0}, "pot_life_min"),  # mixing and degassing take 8
        ({"pot_life_min": 20.0, "mix_min": 15.0, "degas_min": 6.0}, "pot_life_min"),
        ({"pot_life_min": 0.0}, "pot_life_min"),
        ({"density_kg_m3": 0.0}, "density_kg_m3"),
        ({"density_kg_m3": -1100.0}, "density_kg_m3"),
        ({"viscosity_pa_s": 0.0}, "viscosity_pa_s"),
        ({"a_parts": 0.0}, "a_parts"),
        ({"b_parts": 0.0}, "b_parts"),
        ({"cup_ml": 0.0}, "cup_ml"),
        ({"price_per_kg": -1.0}, "price_per_kg"),
        ({"vacuum_kpa": 98.2, "air_kpa": 90.0}, "vacuum_kpa"),
        ({"scale_step_g": 20.0, "scale_most_g": 500.0}, "scale_step_g"),
        ({"mix_by": "volume"}, "a_density_kg_m3"),
        ({"pot_life_min": "long"}, "pot_life_min"),
        ({"chunks_g": math.nan}, "chunks_g"),
    ],
)
def test_zero_negative_missing_or_contradictory_data_are_refused_at_the_field(settings, name):
    with pytest.raises(BadSettingError) as refused:
        RubberSettings(**settings)
    assert refused.value.name == name


def test_a_master_that_fills_the_case_is_refused():
    case = cased(shapes.box((150, 150, 100)), at=(0, 0), channel_mm=20.0, cover_mm=1.0)
    with pytest.raises(UnusableMeshError, match="no room is left for rubber"):
        made(case)


def test_forces_agree_with_integrated_pressure():
    density = HYDROSTATICS["density_kg_m3"]
    for depth, pascal in HYDROSTATICS["pressure_at_depth_pa"]:
        kpa = forces_at(round_bore(160), depth, 1000, density).floor_pressure_kpa
        assert kpa * 1000 == pytest.approx(pascal, rel=1e-4)
    base, seam = HYDROSTATICS["base_push_n"], HYDROSTATICS["seam_pull_n"]
    forces = forces_at(round_bore(base["inner_diameter_mm"]), base["level_mm"], 1000, density)
    assert forces.base_push_n == pytest.approx(base["value"], rel=1e-4)
    assert forces.uplift_n == pytest.approx(HYDROSTATICS["buoyancy_of_a_litre_n"], rel=2e-4)
    for across, pull in seam["by_inner_diameter_mm"]:
        forces = forces_at(round_bore(across), seam["level_mm"], 1000, density)
        assert forces.seam_pull_n == pytest.approx(pull, rel=2e-4)


def test_uplift_is_the_pressure_summed_over_the_masters_faces():
    # pressure on each face by the depth of its middle: exact, as pressure is linear there
    case = cased(shapes.sphere(40, 96))
    rubber = made(case, density_kg_m3=1100.0)
    depth_m = (case.level_z_mm - case.master.corners[:, :, 2].mean(axis=1)) / 1000
    push_n = -(case.master.vectors_mm2[:, 2] * 1e-6 * 1100 * 9.80665 * depth_m).sum()
    assert rubber.forces.uplift_n == pytest.approx(push_n, rel=1e-9)


def test_flow_agrees_with_pipe_hole_and_short_tube():
    viscosity = FLOW["viscosity_pa_s"]
    row = FLOW["short_tube"]
    resistance = throat_resistance_pa_s_m3(row["diameter_mm"], row["length_mm"], viscosity)
    assert row["pressure_pa"] / resistance * 1e6 == pytest.approx(row["flow_ml_s"], rel=1e-4)
    row = FLOW["hole"]
    resistance = throat_resistance_pa_s_m3(row["diameter_mm"], 0, viscosity)
    assert row["pressure_pa"] / resistance * 1e6 == pytest.approx(row["flow_ml_s"], rel=2e-4)
    # a pipe so long that its ends do not count
    row = FLOW["full_pipe_under_own_weight"]
    flow = flow_ml_s(row["diameter_mm"], 1e6, 0, viscosity, FLOW["density_kg_m3"])
    assert flow == pytest.approx(row["flow_ml_s"], rel=1e-4)
    assert 2000 / flow == pytest.approx(row["two_litres_s"], rel=1e-4)
    # 50 mm of head over 250 mm: the ends slow it by 3 pi a / 8 over the length, and no more
    flow = flow_ml_s(row["diameter_mm"], 250, 50, viscosity, FLOW["density_kg_m3"])
    seconds = FLOW["pipe_250_long_head_50_two_litres_s"]
    assert 2000 / flow == pytest.approx(seconds * (1 + 3 * math.pi * 6 / 8 / 250), rel=1e-4)


def test_a_thin_liquid_never_outruns_free_fall():
    # Torricelli: the jet's mean speed stays below sqrt(2 g h)
    for viscosity in (0.1, 0.01, 1e-6):
        flow = flow_ml_s(40, 10, 50, viscosity, 1000)
        speed = flow * 1e-6 / (math.pi * 0.02**2)
        assert speed < math.sqrt(2 * 9.80665 * 0.06)
    assert speed == pytest.approx(math.sqrt(9.80665 * 0.06), rel=1e-3)  # a parabola carries twice


def test_twice_the_viscosity_takes_twice_as_long():
    case = cased(shapes.cylinder(50, 100))
    funnel = funnel_stage(case, FunnelSettings(widest_throat_mm=15.0), Watch())
    once, twice = (pour_time_s(2000, funnel, viscosity, 1080) for viscosity in (20, 40))
    assert twice == pytest.approx(2 * once, rel=1e-3)
    # both ends and the throat, the bowl half full, by hand
    head = (funnel.top_z_mm - funnel.cone_z_mm) / 2
    pascal = 1080 * 9.80665 * (head + funnel.throat_length_mm) / 1000
    radius = funnel.throat_mm / 2000
    length = funnel.throat_length_mm / 1000 + 3 * math.pi * radius / 8
    by_hand = pascal * math.pi * radius**4 / (8 * 20 * length) * 1e6
    assert 2000 / once == pytest.approx(by_hand, rel=1e-3)


def test_batches_each_have_their_own_pot_life():
    case = cased(shapes.cylinder(40, 150), at=(0, -5))
    slow = {"viscosity_pa_s": 180.0, "pot_life_min": 9.0, "mix_min": 1.0, "degas_min": 0.0}
    one, many = made(case, **slow), made(case, cup_ml=500.0, **slow)
    assert one.pour_s == many.pour_s
    assert [notice.code for notice in one.warnings] == ["pot_life"]
    assert len(many.batches) > 4
    assert not many.warnings


def test_the_rubber_round_a_scan():
    case = cased(bunny(120.0), inner_diameter_mm=200.0)
    rubber = made(case)
    # the master by summing slices of its plan, not by the formula of its volume
    heights = np.arange(0.5, 120, 1.0) + case.riser_mm
    solid = to_solid(case.master)
    master_mm3 = sum(solid.slice(float(z)).area() for z in heights)
    section = manifold3d.CrossSection([case.riser_outline[0].copy()])
    bore_mm3 = math.pi * 100**2 * case.level_z_mm
    left_ml = (bore_mm3 - master_mm3 - section.area() * case.riser_mm) / 1000
    assert rubber.volume_ml == pytest.approx(left_ml, rel=1e-3)


def test_a_wide_throat_does_not_hurry_the_hand_that_pours():
    # a throat of 40 mm passes 50 ml/s and more; 20 ml/s by hand: common practice, no source
    case = cased(shapes.cylinder(50, 100))
    wide, narrow = (
        pour_time_s(
            2000, funnel_stage(case, FunnelSettings(widest_throat_mm=mm), Watch()), 20, 1080
        )
        for mm in (200.0, 12.0)
    )
    assert wide == pytest.approx(2000 / 20)
    assert narrow > wide
