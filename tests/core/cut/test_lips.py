"""The two lips of a slit, against D = G / (2 s) - 1 and pieces whose rims are known."""

import numpy as np
import pytest

from blender_addon.core.cut.lips import lips_mm, lips_stretch
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage

RISER = 6.35
GIRTH = np.pi * 70.0
"""Of a part 70 mm across, in mm."""

STEP = [(0, 0), (20, 0), (20, 30), (35, 30), (35, 60), (0, 60)]
"""A part of 70 on a neck of 40, radius and height in mm."""


def cut(mesh, allowed, way="best", **case):
    case.setdefault("at", (0.0, 0.0))
    settings = CutSettings(
        way=way, elongation_percent=400, safe_share_percent=25 * allowed, least_slit_mm=0
    )
    return cut_stage(cased(mesh, **case), NO_MARKS, settings, Watch())


@pytest.mark.parametrize(
    ("stretch", "slit"), [(0.0, 109.96), (0.3, 84.58), (0.5, 73.30), (1.0, 54.98)]
)
def test_two_lips_let_a_part_of_70_pass(stretch, slit):
    assert lips_mm(GIRTH, stretch) == pytest.approx(slit, abs=0.005)  # 2 s (1 + e) = G


def test_a_slit_of_60_must_stretch_by_five_sixths():
    assert lips_stretch(GIRTH, 60.0) == pytest.approx(0.8326, abs=5e-5)  # G / 2 s - 1
    assert lips_stretch(GIRTH, 200.0) == 0.0


def test_what_one_needs_the_other_allows():
    for ring in (0.0, 60.0):
        slit = lips_mm(GIRTH, 0.4, ring)
        assert lips_stretch(GIRTH, slit, ring) == pytest.approx(0.4)


@pytest.mark.parametrize("allowed", [0.25, 0.5])
def test_the_result_tells_the_shortest_slit_by_lips_alone(allowed):
    lips = cut(shapes.turned(STEP), allowed).lips
    assert lips.girth_mm == pytest.approx(GIRTH, rel=1e-3)
    assert lips.alone_mm == pytest.approx(GIRTH / 2 / (1 + allowed), rel=1e-3)
    assert lips.alone_stretch == pytest.approx(GIRTH / 2 / lips.length_mm - 1, rel=1e-3)


def test_lips_go_on_under_the_ledge_that_the_blade_runs_along():
    # up the neck, 30 mm, and 15 mm out under the ledge: 2 x 15 mm of lips and the ring of 40 are
    # 155.7 mm, which stretch by 41 % to let 219.9 pass
    found = cut(shapes.turned(STEP), 0.5)
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 30, abs=1e-3)
    assert found.lips.length_mm == pytest.approx(30 + 15, abs=0.1)
    assert found.lips.stretch == pytest.approx(70 * np.pi / (40 * np.pi + 30) - 1, abs=0.02)
    assert found.pull.stretch == found.lips.stretch


@pytest.mark.parametrize("allowed", [0.2, 0.25])
def test_a_slit_whose_lips_are_too_short_goes_on(allowed):
    found = cut(shapes.turned(STEP), allowed)
    lips = (70 / (1 + allowed) - 40) * np.pi / 2  # from the neck's end on, of which 15 mm go out
    assert found.kind == "one slit"
    height = found.slit_mm[-1, 2] - RISER
    assert 30 + lips - 15 - 0.1 <= height <= 30 + lips - 15 + 1.0
    assert found.lips.stretch <= allowed + 1e-9
    assert found.proof.opens
    assert found.warnings == ()


def test_lips_that_cannot_get_long_enough_make_two_halves():
    cap = shapes.turned([(0, 0), (10, 0), (10, 60), (35, 60), (35, 80), (0, 80)])
    assert cut(cap, 0.2, inner_diameter_mm=120.0).kind == "two halves"
    # and are told of where a slit is wanted: 25 mm out and 20 mm up to the top
    found = cut(cap, 0.2, "slit", inner_diameter_mm=120.0)
    assert found.kind == "one slit"
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 80, abs=1e-3)
    rim = 70 * np.pi / (1 + found.lips.stretch)
    assert rim == pytest.approx(20 * np.pi + 90, rel=0.03)  # the line rounds the corners off
    assert [one.code for one in found.warnings] == ["lips_too_short"]


def test_a_slit_up_into_a_hollow_stays_with_the_stem():
    # the ring round the stem goes on in the hollow brim; the blade passes the brim and lays both
    # its sides open: 20 mm up the stem, 20 out, 20 down, 5 out and 20 up again
    hanging = shapes.turned(
        [(0, 0), (10, 0), (10, 60), (30, 60), (30, 40), (35, 40), (35, 80), (0, 80)]
    )
    found = cut(hanging, 0.6, inner_diameter_mm=120.0)
    assert found.slit_mm[-1, 2] == pytest.approx(RISER + 60, abs=0.5)
    assert np.hypot(*found.slit_mm[-1, :2]) == pytest.approx(10.0, abs=0.05)
    assert found.lips.length_mm == pytest.approx(60 + 20 + 20 + 5 + 20, abs=1.5)
    # of the blade's 50 mm from the stem to the outside, the brim takes 5
    assert found.depths[-1].depth_mm == pytest.approx(50.0, abs=0.2)
    assert found.pull.thickness_mm == pytest.approx(45.0, abs=0.2)
    assert found.proof.opens


def test_a_bar_asks_nothing_of_its_lips():
    lips = cut(shapes.cylinder(20, 100), 0.5).lips
    assert lips.stretch == pytest.approx(0.0, abs=1e-9)
    assert lips.length_mm < 1.0  # nothing has to be slit, and no shortest slit is set


@pytest.mark.parametrize("turn", [0.0, 40.0])
def test_a_second_part_that_the_slit_runs_past_is_told_of(turn):
    # two knobs of 30 x 30 on necks of 12 x 12, side by side on a foot: a slit frees one of them
    solid = to_solid(shapes.box((120, 40, 20), (-60, -20, 0)))
    for x in (-35, 35):
        solid += to_solid(shapes.box((12, 12, 31), (x - 6, -6, 19)))
        solid += to_solid(shapes.box((30, 30, 30), (x - 15, -15, 50)))
    angle = np.radians(turn)
    matrix = np.eye(4)
    matrix[:2, :2] = [[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]
    found = cut(to_mesh(solid).moved(matrix), 0.5, way="slit")
    (place,) = found.missed
    assert place.needed_stretch == pytest.approx(30 / 12 - 1)
    assert RISER + 20 <= place.at_mm[2] <= RISER + 50
    middles = [matrix[:2, :2] @ [x, 0.0] for x in (-35, 35)]
    other, slit = place.at_mm[:2], found.slit_mm[-1, :2]
    assert min(np.linalg.norm(middles - np.array(other), axis=1)) < 0.1
    assert np.linalg.norm(slit - other) > 50.0
    (notice,) = (one for one in found.warnings if one.code == "second_slit")
    assert notice.at_mm == place.at_mm


def test_one_neck_is_never_told_of_as_missed():
    assert cut(shapes.turned(STEP), 0.5).missed == ()
