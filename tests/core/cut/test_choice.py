"""Which cut is taken: the shortest slit, a longer one, two halves; and what the maker is told."""

from dataclasses import replace

import numpy as np
import pytest

from blender_addon.core.constants.cut import HARD_PULL_N
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.cut.warn import cut_warnings
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage

CONE = shapes.turned([(0, 0), (15, 0), (40, 100), (0, 100)], segments=48)
SAFE_200 = CutSettings(elongation_percent=200.0, safe_share_percent=50.0, least_slit_mm=0.0)


def cut(mesh, settings, **case):
    return cut_stage(cased(mesh, at=(0.0, 0.0), **case), NO_MARKS, settings, Watch())


def told(found, code):
    return next((one for one in found.warnings if one.code == code), None)


def knobs():
    """Return two knobs of 30 x 30 on necks of 12 x 12, side by side on a foot."""
    solid = to_solid(shapes.box((100, 40, 20), (-50, -20, 0)))
    for x in (-30, 30):
        solid += to_solid(shapes.box((12, 12, 31), (x - 6, -6, 19)))
        solid += to_solid(shapes.box((30, 30, 30), (x - 15, -15, 50)))
    return to_mesh(solid)


def test_a_slit_that_opens_easily_is_taken_as_it_is_and_nothing_is_said_of_it():
    soft = replace(SAFE_200, hardness_shore_a=5.0)
    found = cut(CONE, soft)
    alone = cut(CONE, replace(soft, way="slit"))
    assert found.kind == "one slit"
    assert told(found, "longer_slit") is None
    assert np.array_equal(found.slit_mm, alone.slit_mm)


@pytest.mark.parametrize("shore", [20.0, 40.0])
def test_a_slit_goes_on_where_the_shortest_takes_more_than_one_person_pulls(shore):
    hard = replace(SAFE_200, hardness_shore_a=shore)
    shortest, found = cut(CONE, replace(hard, way="slit")), cut(CONE, hard)
    assert shortest.pull.force_n > HARD_PULL_N
    assert told(shortest, "hard_to_open") is not None
    assert found.kind == "one slit"
    assert found.proof.opens
    assert found.pull.force_n <= HARD_PULL_N
    assert told(found, "hard_to_open") is None
    assert found.slit_length_mm > shortest.slit_length_mm + 1.0
    text = told(found, "longer_slit").text
    assert f"{found.slit_length_mm:.1f} mm" in text
    assert f"{shortest.pull.most_n:.0f} N" in text
    assert found.allowed_stretch == shortest.allowed_stretch == 1.0  # what is safe stays so
    assert found.lips.alone_mm == pytest.approx(shortest.lips.alone_mm)


def test_the_longer_slit_ends_where_the_cone_leaves_a_stretch_that_can_be_pulled():
    # closed form: a slit up to the radius r leaves 40 / r - 1 to stretch
    found = cut(CONE, SAFE_200)
    top = found.slit_mm[-1, 2] - 6.35
    assert found.pull.stretch == pytest.approx(40 / (15 + top / 4) - 1, abs=0.02)


@pytest.mark.parametrize("turn", [0.0, 40.0])
def test_two_halves_are_taken_where_a_slit_runs_past_a_large_part(turn):
    angle = np.radians(turn)
    matrix = np.eye(4)
    matrix[:2, :2] = [[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]
    found = cut(knobs().moved(matrix), SAFE_200)
    assert (found.kind, found.proof.pieces) == ("two halves", 2)
    why = told(found, "two_halves")
    assert "150%" in why.text  # 30 / 12 - 1
    assert ("behind the piece" in why.text) == (found.ways[1].undercut_ml >= 1.0)
    middles = [matrix[:2, :2] @ [x, 0.0] for x in (-30, 30)]
    assert min(np.linalg.norm(middles - np.array(why.at_mm[:2]), axis=1)) < 0.1


def test_one_slit_that_is_asked_for_stays_one_slit_with_its_warning():
    found = cut(knobs(), replace(SAFE_200, way="slit"))
    assert found.kind == "one slit"
    assert told(found, "second_slit") is not None
    assert told(found, "two_halves") is None


def test_a_part_that_the_rubber_lets_go_by_stretch_alone_asks_for_no_halves():
    found = cut(knobs(), replace(SAFE_200, elongation_percent=2.0 * 150.0))
    assert found.kind == "one slit"  # the necks may stretch by 150 %: both are let go


def test_what_even_the_softest_reading_of_the_hardness_makes_too_hard_is_halved():
    # a cap that a stiff rubber could pass by stretch, in a thick case
    cap = shapes.turned([(0, 0), (18, 0), (18, 60), (30, 60), (30, 80), (0, 80)])
    stiff = CutSettings(
        elongation_percent=300.0, safe_share_percent=50.0, hardness_shore_a=60.0, least_slit_mm=0.0
    )
    alone = cut(cap, replace(stiff, way="slit"), inner_diameter_mm=200.0)
    assert alone.pull.word == "do not"
    assert alone.pull.stretch <= alone.allowed_stretch
    assert "takes a pull of" in told(alone, "hard_to_open").text
    found = cut(cap, stiff, inner_diameter_mm=200.0)
    assert found.pull.word != "do not"
    assert told(found, "two_halves") is not None or told(found, "longer_slit") is not None


def test_rubber_that_halves_leave_in_a_hollow_brim_is_told_of():
    # a cap with a ring-shaped hollow under its brim, beside a small one: pulled to the side, the
    # rubber in the hollow stands behind the brim, though no girth has to stretch
    cap = shapes.turned(
        [(0, 0), (10, 0), (10, 60), (30, 60), (30, 45), (40, 45), (40, 80), (0, 80)]
    )
    found = cut(cap, replace(SAFE_200, way="halves"))
    hollow_ml = np.pi * (30**2 - 10**2) * 15 / 1000  # closed form: 37.7 ml
    assert found.ways[1].undercut_ml > 0.9 * hollow_ml
    assert told(cut(cap, replace(SAFE_200, elongation_percent=60.0)), "two_halves").text.endswith(
        "of rubber still stand behind the piece: bend them out of it, slowly."
    )


def test_a_stretch_that_no_rubber_bears_is_told_without_its_digits():
    solid = to_solid(shapes.box((60, 60, 20), (-30, -30, 0)))
    solid += to_solid(shapes.box((2, 2, 30), (-1, -1, 19)))
    found = cut(to_mesh(solid + to_solid(shapes.box((60, 60, 20), (-30, -30, 48)))), SAFE_200)
    assert found.needed_stretch == pytest.approx(60 / 2 - 1)
    assert "stretch by up to 1000% and more uncut" in told(found, "two_halves").text


@pytest.mark.parametrize(("others", "help_text"), [
    ((0.5,), "Take the other way to open"), ((9.5,), "No other way"), ((), "No other way"),
])  # fmt: skip
def test_the_other_way_to_open_is_advised_only_where_it_takes_less(others, help_text):
    found = cut(knobs(), SAFE_200)
    (own,) = [way for way in found.ways if way.kind == "two halves"]
    ways = (own, *(replace(own, kind="one slit", stretch=one) for one in others))
    torn = replace(found, pull=replace(found.pull, stretch=9.0), ways=ways, warnings=())
    assert help_text in told(cut_warnings(torn, None), "stretch_too_far").text
