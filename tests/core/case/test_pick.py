"""The case that the maker picked, and what is said when it does no more."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blender_addon.core.case.settings import CaseSettings
from blender_addon.core.case.stage import case_stage
from blender_addon.core.catalog.tube import Tube
from blender_addon.core.catalog.tubes import tubes
from blender_addon.core.errors import BadSettingError
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core import scans

# a bar of radius 30 needs 60 + 13 in front + 20 behind = 93 mm; its case is 6.35 + 60 + 30 mm high
BAR = scans.standing(shapes.cylinder(30, 60, segments=720))
NARROW, RIGHT, WIDE = (Tube(f"tube {inner}", inner, 3.0, inner) for inner in (80.0, 95.0, 110.0))
ALL = (NARROW, RIGHT, WIDE)


def case_of(stock, **asked):
    return case_stage(BAR, stock, CaseSettings(**asked), Watch())


def told(case):
    return [(notice.code, notice.text) for notice in case.warnings]


def test_a_picked_tube_is_taken_though_a_narrower_one_does():
    case = case_of(ALL, tube="tube 110.0")
    assert case.name == "tube 110.0"
    assert told(case) == []
    assert "tube 95.0" in {one.name for one in case.choices}


def test_a_pick_stays_when_other_settings_change():
    for least_mm in (10.0, 13.0, 20.0):
        assert case_of(ALL, tube="tube 110.0", least_rubber_mm=least_mm).name == "tube 110.0"


def test_a_pick_that_does_no_more_says_why_and_by_how_much():
    case = case_of(ALL, tube="tube 80.0")
    assert case.name == "tube 95.0"
    ((code, text),) = told(case)
    assert code == "pick_does_not_do"
    assert "tube 80.0 is 80.0 mm wide inside, and 93 mm are needed: 13.0 mm more" in text


def test_a_pick_that_was_sold_says_so():
    ((code, text),) = told(case_of(ALL, tube="tube 99.0"))
    assert code == "pick_does_not_do"
    assert "tube 99.0 is not on the list of tubes" in text


def test_a_pick_that_is_too_short_by_now_says_so():
    ((_, text),) = told(case_of((NARROW, replace(RIGHT, length_mm=90.0), WIDE), tube="tube 95.0"))
    assert "of tube 95.0 90.0 mm are left, and the case is 96.3 mm high" in text


def test_a_tube_too_short_for_the_height_is_passed_over():
    stock = (NARROW, replace(RIGHT, length_mm=96.0), WIDE)
    assert case_of(stock).name == "tube 110.0"
    assert "tube 95.0" not in {one.name for one in case_of(stock).choices}
    stock = (NARROW, replace(RIGHT, length_mm=96.4), WIDE)
    assert case_of(stock).name == "tube 95.0"


@pytest.mark.parametrize("kind", ["printed round", "printed oval", "printed contour"])
def test_a_printed_case_may_be_picked_though_tubes_do(kind):
    case = case_of(ALL, kind=kind)
    assert case.kind == kind
    assert told(case) == []
    assert "tube 95.0" in {one.name for one in case.choices}


def test_no_tube_does_says_by_how_much_and_a_round_one_is_printed():
    case = case_of((NARROW,))
    assert case.kind == "printed round"
    ((code, text),) = told(case)
    assert code == "printed_case"
    assert "the widest, tube 80.0, is 80.0 mm wide inside, 13.0 mm less than needed" in text
    assert "Print a case 93 mm wide" in text


def test_wide_tubes_that_are_all_too_short_are_told_as_such():
    ((_, text),) = told(case_of((NARROW, replace(WIDE, length_mm=50.0))))
    assert "of tube 110.0 50.0 mm are left, and the case is 96.3 mm high" in text


def test_who_wants_a_tube_and_has_none_is_told_and_gets_no_other():
    with pytest.raises(BadSettingError, match=r"case.kind: .* 13.0 mm less than needed") as caught:
        case_of((NARROW,), kind="stock tube")
    assert caught.value.name == "case.kind"


def test_a_printed_kind_leaves_the_picked_tube_alone():
    assert case_of(ALL, kind="printed oval", tube="tube 110.0").kind == "printed oval"


def test_the_tube_sawn_off_is_paid_by_its_length():
    priced = replace(RIGHT, price_per_m=20.0)
    case = case_of((priced, WIDE))
    assert case.taken.tube_price == pytest.approx(20.0 * 0.09635)
    assert case.taken.height_mm == case.height_mm
    assert {one.tube_price for one in case.choices} == {0.0}


def test_the_case_taken_is_not_among_the_others():
    case = case_of(ALL)
    assert case.taken.name == case.name
    assert case.name not in {one.name for one in case.choices}


def test_a_riser_higher_than_the_piece_is_refused_at_its_field():
    scan = scans.standing(shapes.cylinder(30, 20), riser_mm=25.0)
    says = r"25\.0 mm high, the piece on it only 20\.0 mm"
    with pytest.raises(BadSettingError, match=says) as caught:
        case_stage(scan, tubes(), CaseSettings(), Watch())
    assert caught.value.name == "scan.riser_mm"


@pytest.mark.parametrize(
    "asked",
    [
        {"least_rubber_mm": 0.0}, {"least_rubber_mm": -3.0}, {"least_channel_mm": 0.0},
        {"cover_mm": -1.0}, {"freeboard_mm": -1.0}, {"front_deg": 400.0},
        {"printed_wall_mm": 0.0}, {"kind": "square"}, {"stock": "none"}, {"cut_rubber_mm": "thick"},
    ],
)  # fmt: skip
def test_what_is_no_setting_is_refused_at_its_field(asked):
    with pytest.raises(BadSettingError) as caught:
        CaseSettings(**asked)
    assert caught.value.name == next(iter(asked))
