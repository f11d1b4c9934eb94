"""Layer by layer on the bed: nothing begins in the air. And the measure that says so itself."""

from __future__ import annotations

import dataclasses
import math

import manifold3d
import numpy as np
import pytest

from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.parts.arrange import arranged
from blender_addon.core.parts.bed import Bed
from blender_addon.core.parts.overhang import overhang_of
from blender_addon.core.parts.pose import pose_of
from blender_addon.core.parts.result import AS_IT_STANDS, UPSIDE_DOWN
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased
from tests.core.parts.made import LAYOUTS, by_name, case_of, laid_out, settings_of, stage
from tests.judges.layers import unsupported_mm2

BED = Bed(220.0, 220.0, 250.0)


KINDS = [
    ("low", "case"),  # halves with bolts, tongue and groove, and the mark on the back
    ("low", "board"),
    ("low", "funnel"),
    ("small bed", "case back"),  # rings: slope, skirt, both
    ("small bed", "board back left"),  # a tile with its keys and pockets
    ("clips and cord", "case back"),  # seats for clips, a groove for the cord
    ("thin wall", "case front"),  # plain seams
    ("pear, small bed", "case left upper"),  # a piece without mirror or axis
    ("two feet", "board"),  # two risers
    ("stock tube", "board"),  # no groove
    ("oval", "funnel"),
    ("no freeboard", "funnel"),  # a saddle without jaws
]
"""A part of every kind, by layout and words of its name."""


@pytest.mark.parametrize(("name", "words"), KINDS)
def test_no_layer_of_any_kind_of_part_begins_in_the_air(name, words):
    # a hundredth of a mm2 is a fortieth of what a line of 0.4 mm lays down in one mm
    parts = by_name(laid_out(name)[2], words)
    assert parts
    for part in parts:
        assert unsupported_mm2(to_solid(part.mesh)) < 0.01, part.name


def test_the_slicing_and_the_measure_see_a_part_that_lies_wrongly():
    # the planted fault: the back of the case stood on its foot, so that the flanges hang
    part = laid_out("low")[2][0]
    standing = part.mesh.moved(np.diag([1.0, -1.0, -1.0, 1.0]))
    standing = standing.with_vertices(standing.vertices - [0, 0, standing.bounds[0][2]])
    assert unsupported_mm2(to_solid(standing)) > 50
    found = overhang_of(standing)
    assert not found.prints_without_supports
    assert found.area_mm2 > 50
    assert found.steepest_deg == pytest.approx(90)


def test_the_slicing_sees_a_hanging_fin_as_thin_as_a_printer_lays_down():
    post = manifold3d.Manifold.cube((4, 4, 20))
    fins = [post + manifold3d.Manifold.cube((3, wide, 3)).translate((3.5, 0, 10))
            for wide in (0.1, 0.3)]  # fmt: skip
    thinner, fin = (unsupported_mm2(one) for one in fins)
    assert thinner < 0.01
    assert 0.6 < fin < 0.9  # 2.5 mm by 0.3 mm stand out, 0.2 mm of it are held


def test_a_cone_on_its_tip_begins_in_the_air_though_its_sides_are_steep():
    bed = manifold3d.Manifold.cube((60, 60, 1), center=True).translate((0, 0, 0.5))
    cone = manifold3d.Manifold.cylinder(20, 0.0, 10.0, 64).translate((0, 0, 10))
    post = manifold3d.Manifold.cube((2, 2, 40)).translate((20, 0, 0.5))
    arm = manifold3d.Manifold.cube((22, 2, 2)).translate((0, 0, 28))
    found = overhang_of(to_mesh(bed + cone + post + arm))
    assert found.islands == 1
    assert not found.prints_without_supports


@pytest.mark.parametrize(("lean", "prints"), [(30, True), (44, True), (47, False), (60, False)])
def test_a_mushroom_prints_as_long_as_its_cap_leans_out_by_45_degrees(lean, prints):
    stem = shapes.turned(
        [(0, 0), (5, 0), (5, 10), (5 + 10 * math.tan(math.radians(lean)), 20), (0, 20)]
    )
    found = overhang_of(stem)
    assert found.steepest_deg == pytest.approx(lean, abs=0.1)
    assert found.prints_without_supports is prints
    assert found.islands == 0


def test_a_pit_is_no_island():
    box = manifold3d.Manifold.cube((20, 20, 20))
    pit = manifold3d.Manifold.sphere(6, 32).translate((10, 10, 22))
    assert overhang_of(to_mesh(box - pit)).prints_without_supports


@pytest.mark.parametrize("turn", [0.0, 37.0, 90.0, 123.0])
def test_a_bar_is_turned_until_it_fits(turn):
    bar = shapes.spun(shapes.box((290, 8, 5)), turn)
    pose = pose_of("bar", bar, AS_IT_STANDS, BED)
    low, high = bar.moved(np.linalg.inv(pose)).bounds
    assert (high - low <= np.array([220.001, 220.001, 250])).all()


def test_a_case_too_large_for_the_bed_is_laid_out_and_told_of_by_part_by_how_much_and_what_helps():
    case = case_of("usual")  # 160 mm inside
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    settings = PartsSettings(bed_x_mm=60.0, bed_y_mm=60.0, bed_z_mm=120.0, board_mm=7.0)
    found = stage(case, funnel, settings)
    large = [part for part in found.parts if part.role == "case" and not part.fits_bed]
    assert len(large) == 8 * 3, "the most pieces come nearest to the bed"
    told = {one.text.partition(" is ")[0]: one.text for one in found.warnings
            if one.code == "larger_than_bed"}  # fmt: skip
    assert set(told) >= {"The funnel"}
    (text,) = (text for name, text in told.items() if name.startswith("The case"))
    worst = max(large, key=lambda part: max(part.wide_mm, part.deep_mm))
    over = max(worst.wide_mm, worst.deep_mm) - 60.0
    assert f"is {over:.1f} mm too large" in text
    assert "parts.bed_x_mm" in text
    assert "even in 8 pieces round and 3 high" in text
    # a chord of an eighth of the wall's outside, the flange on it, is what has to lie there; the
    # turn found is at most 10 % worse than the square round the longest way across
    chord = 2.0 * (80.0 + case.wall_mm) * math.sin(math.pi / 8.0)
    across = chord + settings.flange_mm
    assert across / math.sqrt(2.0) < max(worst.wide_mm, worst.deep_mm) < 1.1 * across
    (split,) = (one.text for one in found.warnings if one.code == "split_case")
    assert "so that each fits" not in split


def test_a_case_goes_into_so_many_pieces_that_each_fits_the_bed_with_its_tongue():
    case = cased(shapes.cylinder(40, 60, 48), inner_diameter_mm=399.0, at=(0.0, 0.0))
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    found = stage(case, funnel, PartsSettings())
    sides = [part for part in found.parts if part.role == "case"]
    assert len(sides) == 6  # a quarter takes 219.5 mm, and its tongue 1.5 mm more
    assert max(max(part.size_mm[:2]) for part in sides) <= 220.0


def test_a_mast_for_a_low_printer_has_the_most_rings_and_is_told_of():
    case = cased(shapes.cylinder(30, 900), inner_diameter_mm=120.0)
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    found = stage(case, funnel, PartsSettings(bed_z_mm=60.0))
    tall = [part for part in found.parts if part.role == "case"]
    assert len(tall) == 2 * 12
    assert not any(part.fits_bed for part in tall)
    (text,) = (one.text for one in found.warnings
               if one.code == "larger_than_bed" and one.text.startswith("The case"))  # fmt: skip
    over = max(part.tall_mm for part in tall) - 60.0
    assert f"is {over:.1f} mm too large" in text
    assert "or take a tube" in text


@pytest.mark.parametrize("turn", [0.0, 20.0, 65.0])
def test_what_fits_in_no_way_is_turned_to_stand_out_least(turn):
    bar = shapes.spun(shapes.box((500, 8, 5)), turn)
    pose = pose_of("bar", bar, AS_IT_STANDS, BED, must_fit=False)
    low, high = bar.moved(np.linalg.inv(pose)).bounds
    # a bar without width takes 500 / sqrt(2) both ways at 45 degrees; the turns go in steps of 5
    most = 500 * math.cos(math.radians(42.5)) + 8
    assert (high - low)[:2].max() <= most


def test_a_funnel_too_large_for_the_bed_is_told_of_and_the_rest_is_laid_out():
    case = case_of("low")
    bed = {"bed_x_mm": 70.0, "bed_y_mm": 75.0, "bed_z_mm": 70.0}
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    found = stage(case, funnel, PartsSettings(**bed))
    assert [part.name for part in found.parts if not part.fits_bed] == ["funnel"]
    told = {one.code: one.text for one in found.warnings}
    assert "card" in told["larger_than_bed"]
    assert told["split_case"].endswith("test the closed case with water before the pour.")
    tube = stage(dataclasses.replace(case, kind="stock tube"), funnel, PartsSettings(**bed))
    (text,) = (one.text for one in tube.warnings if one.code == "split_case")
    assert text.endswith("With the tube itself at hand you need none of them.")


def test_what_fits_in_no_way_is_refused_by_name():
    with pytest.raises(ValueError, match="bar takes 312") as caught:
        pose_of("bar", shapes.box((312, 8, 5)), UPSIDE_DOWN, BED)
    assert caught.value.name == "parts.bed_x_mm"
    with pytest.raises(ValueError, match="cannot be split") as caught:
        pose_of("post", shapes.box((10, 8, 251)), UPSIDE_DOWN, BED)
    assert caught.value.name == "parts.bed_z_mm"


@pytest.mark.parametrize("name", [one for one in LAYOUTS if "bed" in one or one == "tall"])
def test_parts_laid_out_on_beds_lie_beside_each_other(name):
    _, _, parts = laid_out(name)
    settings = settings_of(name)
    places = arranged(parts, Bed(settings.bed_x_mm, settings.bed_y_mm, settings.bed_z_mm))
    boxes = [
        (
            bed,
            x - p.size_mm[0] / 2,
            x + p.size_mm[0] / 2,
            y - p.size_mm[1] / 2,
            y + p.size_mm[1] / 2,
        )
        for (bed, x, y), p in zip(places, parts, strict=True)
    ]
    for k, (bed, left, right, front, back) in enumerate(boxes):
        assert left >= -settings.bed_x_mm / 2 - 1e-3
        assert right <= settings.bed_x_mm / 2 + 1e-3
        assert front >= -settings.bed_y_mm / 2 - 1e-3
        assert back <= settings.bed_y_mm / 2 + 1e-3
        for other, left2, right2, front2, back2 in boxes[:k]:
            apart = bed != other or right <= left2 or right2 <= left
            assert apart or back <= front2 or back2 <= front
    assert sorted({bed for bed, *_ in boxes}) == list(range(len({bed for bed, *_ in boxes})))
