"""The pieces of the case: they fit with the stated air, bolt together, and stand on each other."""

from __future__ import annotations

import dataclasses
from itertools import pairwise

import manifold3d
import numpy as np
import pytest

from blender_addon.core.case.bore import Bore
from blender_addon.core.errors import BadSettingError
from blender_addon.core.parts.bolts import heights, hole_mm
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.parts.split import split_of
from tests import shapes
from tests.core.cases import cased
from tests.core.parts.made import (
    CASES,
    TOUCH_MM3,
    by_name,
    case_of,
    egg,
    ellipse,
    laid_out,
    lumpy,
    made,
    placed,
    settings_of,
    stage,
)

FILM_MM = 0.02
"""Cut away where faces touch, so that what is left shows the air between the rest."""


def beyond(solid, normal, offset):
    """Return what of a solid lies a film beyond a plane."""
    return solid.trim_by_plane(normal, offset + FILM_MM)


def seam_normal(seam):
    """Return the way counter-clockwise across a seam, and the seam's offset along it."""
    normal = np.array([-seam.out[1], seam.out[0], 0.0])
    return normal, float(normal[:2] @ seam.at)


@pytest.mark.parametrize("fit", [0.2, 0.3, 0.5])
def test_the_tongue_has_the_fit_all_round_in_its_groove(fit):
    case = case_of("low")
    _, parts = made(case, fit_mm=fit)
    back, front = (placed(part) for part in parts[:2])
    for piece, other, seam in zip(
        (back, front), (front, back), split_of(case, PartsSettings(fit_mm=fit)).seams, strict=True
    ):
        normal, offset = seam_normal(seam)
        # the piece before the seam has the tongue; the first seam begins the back
        tongue = beyond(other, normal, offset) ^ _near(seam)
        groove = beyond(piece, normal, offset) ^ _near(seam)
        assert tongue.volume() > 10
        assert tongue.min_gap(groove, 3.0) == pytest.approx(fit, abs=0.05)


def _near(seam):
    box = manifold3d.Manifold.cube((20, 20, 1000), center=True)
    return box.translate((*(seam.at + 2 * seam.out), 0.0))


@pytest.mark.parametrize("name", ["small bed", "tall"])
def test_rings_stand_flat_on_each_other_and_the_skirt_has_the_fit(name):
    case, _, parts = laid_out(name)
    floors = split_of(case, settings_of(name)).floors_mm
    backs = [placed(part) for part in by_name(parts, "case back")]
    assert len(backs) == len(floors) - 1 > 1
    for (low, high), z in zip(pairwise(backs), floors[1:-1], strict=True):
        assert high.bounding_box()[2] < z - 1.0  # the skirt reaches down over the joint
        hanging = beyond(high, (0, 0, -1), -z)
        assert hanging.min_gap(beyond(low, (0, 0, -1), -z), 3.0) == pytest.approx(0.3, abs=0.05)
        # flat on flat inside: pressed down a hair, they meet over much of the joint
        pressed = (high.translate((0, 0, -0.01)) ^ low).volume() / 0.01
        ring = (case.bore.offset(case.wall_mm / 4).section() - case.bore.section()).area()
        assert pressed > ring / len(by_name(parts, "case", "lower"))
        # and the skirt centres them: shifted by more than its air, it meets the slope
        for way in ((0.0, 0.5, 0.0), (0.0, -0.5, 0.0)):
            everything = [placed(part) for part in by_name(parts, "case")]
            ring_low = _union(one for one in everything if one.bounding_box()[5] <= z + 0.01)
            ring_high = _union(one for one in everything if one.bounding_box()[2] > z - 5)
            assert (ring_high.translate(way) ^ ring_low).volume() > 1


def _union(solids):
    return manifold3d.Manifold.batch_boolean(list(solids), manifold3d.OpType.Add)


@pytest.mark.parametrize("name", ["stock tube", "small bed", "thin wall"])
def test_bolts_pass_straight_through_every_seam(name):
    case, _, parts = laid_out(name)
    settings = settings_of(name)
    walls = _union(placed(part) for part in by_name(parts, "case"))
    split = split_of(case, settings)
    holes = sum(placed(part).genus() for part in by_name(parts, "case"))
    found = 0
    for seam in split.seams:
        x = seam.wall_mm + settings.flange_mm / 2
        sliver = manifold3d.Manifold.cube((1, 60, 2000), center=True).translate((x, 0, 0))
        near = walls ^ seam.stood(sliver)
        for z in np.arange(7.0, case.height_mm, 1.0):
            needle = manifold3d.Manifold.cylinder(60, 0.2, 0.2, 8, center=True)
            needle = seam.stood(needle.rotate((90, 0, 0)).translate((x, 0, z)))
            found += (needle ^ near).volume() == 0
    # a hole is 4.5 mm high and 1.2 with its tip: four to six needles pass each
    assert 4 * holes / 2 <= found <= 6 * holes / 2
    assert holes >= 2 * len(split.seams) * split.rings


def test_a_bolt_passes_and_the_next_larger_does_not():
    case, _, parts = laid_out("usual")
    walls = _union(placed(part) for part in by_name(parts, "case"))
    (seam, _) = split_of(case, PartsSettings()).seams
    z = _bolt_heights(case)[0]
    for across, passes in ((4.0, True), (4.49, True), (4.6, False)):
        bolt = manifold3d.Manifold.cylinder(60, across / 2, across / 2, 64, center=True)
        at = (seam.wall_mm + 8.0, 0.0, z)
        inside = seam.stood(bolt.rotate((90, 0, 0)).translate(at)) ^ walls
        assert (inside.volume() == 0) is passes


def _bolt_heights(case):
    return heights(6.5, case.height_mm, 9.0 + 1.6, 60.0)


@pytest.mark.parametrize(
    ("bolt", "hole", "washer"), [("M3", 3.4, 7), ("M4", 4.5, 9), ("M5", 5.5, 10), ("M6", 6.6, 12)]
)
def test_holes_and_washers_are_those_of_the_standards(bolt, hole, washer):
    # clearance holes, medium: ISO 273:1979; plain washers, normal: ISO 7089:2000; from memory
    assert hole_mm(bolt) == hole
    _, parts = made(case_of("usual"), bolt=bolt, bed_z_mm=300.0)
    settings = PartsSettings(bolt=bolt)
    (seam, _) = split_of(case_of("usual"), settings).seams
    z = heights(6.5, case_of("usual").height_mm, washer + 1.6, 60.0)[0]
    # the washer lies flat: a disc just inside the flange's outside is all material but the hole
    disc = manifold3d.Manifold.cylinder(0.2, washer / 2, washer / 2, 64, center=True)
    at = (seam.wall_mm + 8.0, 4.85, z)
    lying = seam.stood(disc.rotate((90, 0, 0)).translate(at))
    under = (lying ^ placed(parts[0])).volume()
    hole_mm2 = 0.2 * np.pi / 4 * hole**2
    assert lying.volume() - under == pytest.approx(hole_mm2, rel=0.2)
    over = seam.stood(disc.rotate((90, 0, 0)).translate((at[0], 5.2, z)))
    assert (over ^ placed(parts[0])).volume() == 0


@pytest.mark.parametrize("pitch", [15.0, 60.0, 300.0])
@pytest.mark.parametrize("length", [30.0, 137.0, 490.0])
def test_bolts_are_evenly_spaced_within_the_pitch_and_off_the_ends(pitch, length):
    found = np.array(heights(6.5, 6.5 + length, 10.0, pitch))
    assert found.min() >= 6.5 + 10.0 - 1e-9
    assert found.max() <= 6.5 + length - 10.0 + 1e-9
    assert found.mean() == pytest.approx(6.5 + length / 2)
    gaps = np.diff(found)
    if len(gaps):
        assert gaps == pytest.approx(gaps[0])
        assert 10.0 - 1e-9 <= gaps[0] <= pitch + 1e-9
        fewer = (length - 20.0) / (len(gaps) - 1) if len(gaps) > 1 else np.inf
        assert fewer > pitch


@pytest.mark.parametrize("bore", [ellipse(95, 70), ellipse(60, 90), egg()])
def test_each_half_comes_off_the_rubber_straight(bore):
    # a half that is undercut would hold the block: moved off along the seam's normal, it meets none
    case = cased(shapes.cylinder(30, 90), bore=bore, kind="printed contour", at=(0.0, -10.0))
    split = split_of(case, PartsSettings(bed_x_mm=400.0, bed_y_mm=400.0))
    begin, end = split.seams
    assert begin.out == pytest.approx(-end.out)
    normal, offset = seam_normal(begin)
    assert _undercut_mm3(case.bore, normal, offset) < 0.5
    assert _undercut_mm3(case.bore, -normal, -offset) < 0.5


def stadium(turn_deg):
    """Return a bore of two half rounds and two flat sides, long from front to back, turned."""
    ends = [manifold3d.CrossSection.circle(35.0, 96).translate((0.0, y)) for y in (-25.0, 25.0)]
    hull = manifold3d.CrossSection.batch_hull(ends).rotate(turn_deg)
    return Bore(np.asarray(hull.to_polygons()[0]))


@pytest.mark.parametrize("turn_deg", [0.0, 0.001, 0.11, -0.3, 7.77, -31.0])
def test_seams_of_a_case_with_flat_sides_lie_on_these_and_not_at_the_back(turn_deg):
    case = cased(shapes.cylinder(20, 60), bore=stadium(turn_deg), kind="printed oval", at=(0, -10))
    split = split_of(case, PartsSettings(bed_x_mm=400.0, bed_y_mm=400.0))
    begin, _ = split.seams
    turned = np.degrees(np.arctan2(begin.out[1], begin.out[0]))
    assert turned == pytest.approx(turn_deg, abs=0.01)
    normal, offset = seam_normal(begin)
    assert _undercut_mm3(case.bore, normal, offset) < 0.5
    assert _undercut_mm3(case.bore, -normal, -offset) < 0.5
    # so that the funnel's hook at the back meets no flange
    _, parts = made(case, bed_x_mm=400.0, bed_y_mm=400.0)
    spout = placed(parts[-1])
    assert all((spout ^ placed(part)).volume() < TOUCH_MM3 for part in parts[:-1])
    # nor the head of a bolt: 7 mm beyond a flange an M6 with its washer has room
    below = spout.trim_by_plane((0, 0, -1), -(case.height_mm - 0.1))
    for seam in split.seams:
        bolt = manifold3d.Manifold.cylinder(10 + 2 * 7, 6, 6, 32, center=True).rotate((90, 0, 0))
        for z in _bolt_heights(case):
            at = seam.stood(bolt.translate((seam.wall_mm + 8.0, 0.0, z)))
            assert (at ^ below).volume() == 0


def test_a_seam_that_is_not_square_to_the_wall_would_hold_the_block():
    # the planted fault: the pear's widest place lies 14 mm before y = 0
    assert _undercut_mm3(egg(), np.array([0.0, -1.0, 0.0]), 0.0) > 5


def _undercut_mm3(bore, normal, offset):
    """Return how much of a half of the wall, moved off by steps, runs through the rubber."""
    block = bore.section().extrude(10)
    wall = bore.offset(4).section().extrude(10) - block
    half = wall.trim_by_plane(normal, offset)
    return max((half.translate(tuple(d * normal)) ^ block).volume() for d in (0.5, 3.0, 20.0))


def test_a_bore_with_sides_of_almost_no_length_makes_the_same_parts():
    case, funnel, parts = laid_out("pear")
    found = stage(dataclasses.replace(case, bore=lumpy()), funnel, PartsSettings()).parts
    assert [part.name for part in found] == [part.name for part in parts]
    for one, other in zip(found, parts, strict=True):
        assert one.volume_ml == pytest.approx(other.volume_ml, rel=1e-4)


def test_the_mark_is_felt_at_the_back_and_nowhere_else():
    for name in ("usual", "small bed"):
        case, _, parts = laid_out(name)
        outside = case.bore.offset(case.wall_mm + 0.2).section().extrude(case.height_mm)
        box = manifold3d.Manifold.cube((30, 1000, 40), center=True).translate((0, 0, 60))
        back = _union(placed(part) for part in by_name(parts, "case back"))
        front = _union(placed(part) for part in by_name(parts, "case front"))
        assert ((back - outside) ^ box).volume() > 30
        assert ((front - outside) ^ box).volume() < 0.1


@pytest.mark.parametrize("name", ["clips and cord"])
def test_clips_have_seats_and_the_cord_a_groove_that_presses_it(name):
    case, _, parts = laid_out(name)
    back, front = (placed(part) for part in parts[:2])
    assert back.genus() == front.genus() == 0
    begin, _ = split_of(case, settings_of(name)).seams
    # a cord of 2 mm lies in 1.5 mm: pressed by a quarter
    normal, offset = seam_normal(begin)
    groove = back.trim_by_plane(normal, offset).slice(100.0)
    wall = case.bore.offset(case.wall_mm).section() - case.bore.section()
    strip = manifold3d.CrossSection([np.array([[80, 0], [84, 0], [84, 1.4], [80, 1.4]])])
    assert (wall ^ strip).area() - (groove ^ strip).area() == pytest.approx(2.0 * 1.4, rel=0.02)
    # a clip of 20 mm has its seat: a block in it meets nothing, one that is longer does
    settings = settings_of(name)
    z = heights(6.5, case.height_mm, settings.clip_mm + 4.0, settings.bolt_pitch_mm)[0]
    for long, free in ((20.0, True), (23.0, False)):
        jaw = manifold3d.Manifold.cube((7.5, 0.9, long), center=True)
        at = (begin.wall_mm + 12.2, 5.0 - 0.45, z)
        assert ((begin.stood(jaw.translate(at)) ^ back).volume() < 1e-6) is free


@pytest.mark.parametrize(
    ("name", "settings", "field"),
    [
        ("low", {"flange_mm": 8.0}, "parts.flange_mm"),
        ("low", {"flange_mm": 12.0, "bolt": "M6"}, "parts.flange_mm"),
        ("low", {"flange_thickness_mm": 20.0}, "parts.flange_thickness_mm"),
        ("flat", {"bolt": "M6"}, "parts.bolt"),
        ("flat", {"closing": "clips", "clip_mm": 60.0}, "parts.clip_mm"),
        ("usual", {"seam": "cord", "cord_mm": 4.0}, "parts.cord_mm"),
        ("usual", {"seam": "cord", "flange_thickness_mm": 2.0}, "parts.cord_mm"),
        ("usual", {"board_mm": 3.0}, "parts.groove_mm"),
    ],
)
def test_what_cannot_be_made_is_refused_at_the_field_in_one_line(name, settings, field):
    case = CASES["low"]() if name == "low" else case_of("usual")
    if name == "flat":
        case = cased(shapes.cylinder(15, 4), at=(0, -5), riser_mm=1.0, cover_mm=3.0,
                     freeboard_mm=5.0, inner_diameter_mm=70.0)  # fmt: skip
    with pytest.raises(BadSettingError) as caught:
        made(case, **settings)
    assert caught.value.name == field
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("field", ["fit_mm", "board_mm", "flange_mm", "bed_x_mm", "bed_z_mm"])
@pytest.mark.parametrize("value", [-1.0, 0.0, 1e9, float("nan")])
def test_a_size_out_of_range_is_refused_with_the_range(field, value):
    with pytest.raises(BadSettingError, match="out of range") as caught:
        PartsSettings(**{field: value})
    assert caught.value.name == field


def test_halves_of_a_wall_too_thin_for_a_tongue_are_plain():
    case, _, parts = laid_out("thin wall")
    back, front = (placed(part) for part in parts[:2])
    assert back.bounding_box()[1] == pytest.approx(0, abs=1e-4)
    assert front.bounding_box()[4] == pytest.approx(0, abs=1e-4)
    assert (back ^ front).volume() < TOUCH_MM3
    assert case.wall_mm == 1.2


def filled_at(solid, point):
    """Tell whether a solid is there: a cube of a fifth of a millimetre is cut out of it."""
    probe = manifold3d.Manifold.cube((0.2, 0.2, 0.2), center=True).translate(tuple(point))
    return (probe ^ solid).volume() > 0.5 * 0.2**3


def test_edges_that_fingers_hold_are_broken():
    case, funnel, parts = laid_out("usual")
    back, _, board, spout = (placed(part) for part in parts)
    outside, rim = 80.0 + case.wall_mm, case.height_mm
    bit, deep = 0.15, 1.5
    for z, inward in ((rim - bit, rim - deep), (-2.0 + bit, -2.0 + deep)):  # rim and foot
        spot = np.array([0.7, 0.714]) / np.hypot(0.7, 0.714) * (outside - bit)
        assert not filled_at(back, (*spot, z))
        assert filled_at(back, (*spot, inward))
    begin, _ = split_of(case, PartsSettings()).seams
    for end, filled in ((bit, False), (deep, True)):  # the outer corner of the flange
        x, y = begin.matrix @ (begin.wall_mm + 16.0 - end, 5.0 - bit, 1.0)
        assert filled_at(back, (x, y, rim / 2)) is filled
    _, front, _, _ = board.project().bounds()
    for z, filled in ((-bit, False), (-3.0, True), (-6.0 + bit, False)):  # the board's edge
        assert filled_at(board, (0.0, front + bit, z)) is filled
    widest = funnel.spread.ring(funnel.spread_mm + funnel.wall_mm)
    x, y = widest[widest[:, 1].argmin()]
    for z, filled in ((funnel.top_z_mm - bit, False), (funnel.top_z_mm - deep, True)):
        assert filled_at(spout, (x * 0.9, y + bit, z)) is filled
