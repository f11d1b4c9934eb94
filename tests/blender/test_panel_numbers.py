"""What each panel tells of a layout, and what its buttons are told: from a layout made by hand.

Each number of that layout can be told from every other, so one that stands at the wrong label, in
the wrong unit or with another number's value is seen.
"""

from __future__ import annotations

import dataclasses
import itertools
import json
from pathlib import PurePosixPath
from types import SimpleNamespace

import bpy
import numpy as np
import pytest

from blender_addon.bridge import results
from blender_addon.bridge.kept import COMMON_PACE_S, kept
from blender_addon.bridge.part_files import part_file
from blender_addon.bridge.properties import read_settings
from blender_addon.core.bubbles.result import Lean
from blender_addon.core.cut.stretch import StretchCurve
from blender_addon.core.job_parts import part_stems
from blender_addon.core.resin.shrinkage import Sculpt
from blender_addon.ui import ids
from blender_addon.ui.tour import STOPS
from tests import shapes
from tests.core import layouts

from .conftest import add
from .drawn import drawn

TIMES = "\N{MULTIPLICATION SIGN}"
TOLD = {
    "MoldPanel": (
        ("Rubber to Weigh", "772 g"), ("Trapped Air", "2.0 ml"), ("Brush First", "10 cm², 11 g"),
        ("Tube, Inside", "103.6 mm"), ("Tube, Height", "96.3 mm"),
    ),
    "ScanPanel": (
        ("Volume", "48 ml"), ("Surface", "88 cm²"), ("Up", "+Z"), ("Triangles", "12"),
        ("Open Edges", "7"), ("Pieces", "1"), ("Through Holes", "2"),
    ),
    "BubblesPanel": (
        ("Trapped Air", "2.0 ml"), ("Give or Take", "0.02 ml"), ("Clinging", "4.5 cm²"),
        ("Narrow", "3.5 cm²"), ("Brush First", "10 cm²"), ("Rubber for It", "11 g"),
        ("0.2 ml", "2.5 mm"), ("2.5 mm", "37.5 mm"), ("1.8 ml", "7.5 mm"), ("7.5 mm", "45.0 mm"),
        ("Trapped", "1.8 ml"), ("Covers", "3.0 cm²"), ("Closes At", "45.0 mm"),
        ("Stays Trapped", "6.2 ml"), ("Deepest Place", "51.0 mm"), ("Poured until Then", "125 ml"),
        ("Left for Upright", "525 ml"),
    ),
    "CasePanel": (
        ("Inside", "103.6 mm"), ("Saw It To", "96.3 mm"), ("Wall", "3.2 mm"),
        ("Rubber Up To", "86.3 mm"), ("Pour Channel", "24.5 mm"), ("Thinnest Rubber", "13.5 mm"),
    ),
    "CaseChoicesPanel": (("PVC 125", "Rubber 1.07 kg"),),
    "FunnelPanel": (
        ("Throat", "3.3 cm²"), ("Flows as Round", "20.5 mm"), ("Bowl, Across", "90.0 mm"),
        ("Bowl Holds", "300 ml"), ("Height", "40.0 mm"), ("Pour Takes", "2 min"),
    ),
    "CutPanel": (("One Slit", "30.0 mm"), ("To Open", "Easy"), ("Pull", "12-34 N")),
    "CutOpensPanel": (
        ("Stretch Uncut", "15%"), ("Stretch When Cut", "45%"), ("Safe Stretch", "132%"),
    ),
    "CutKnifePanel": (("At 10.0 mm", "31.5 mm deep"),),
    "RubberPanel": (
        ("Cups 1 to 2, Each", "A 351 g"), ("", "B 35.1 g"), ("Cup 3", "A 70.2 g"),
        ("", "B 7.02 g"), ("To Brush on First", "A 11.5 g"), ("", "B 1.2 g"), ("In Time", "Yes"),
        ("Mixing a Cup", "4 min"), ("Degassing a Cup", "5 min"), ("Pouring a Cup", "48 s"),
        ("Pot Life", "30 min"),
        ("Fills the Case", "650 ml"), ("To Mix", "715 ml"), ("Block", "702 g"),
        ("To Lift, with Clay", "784 g"),
    ),
    "PotsPanel": (
        ("Block, Across", "103.6 mm"), ("Block, High", "86.3 mm"), ("Vessel to Degas", "1.43 l"),
        ("Air Grows", "32 times"),
    ),
    "ResinPanel": (
        ("Mix Now", "A 3.5 g"), ("", "B 4.25 g"), ("Still to Fill", "9.0 ml, 7.75 g"),
        ("Solid Copy", "53 ml, 56 g"), ("Shell", "18 ml, 19 g"), ("Coat 1", "A 10 g + B 9 g"),
        ("Coat Thickness", "over 3.0 mm"), ("40.0 mm", "A 19 g + B 18 g"),
        ("Thickest Allowed", "25.0 mm"), ("Cools in About", "37 min"),
        ("Never Hotter Than", "143 °C"), ("Opening, Across", "14.0 mm"), ("Plug", "5 g"),
        ("True Base, below Rim", "6.3 mm"), ("Sanded Off", "5 g"),
    ),
    "ShrinkagePanel": (
        ("Clay", "Height"), ("Height", "60.0 mm"), ("Width", "40.0 mm"), ("Resin Copy", "Height"),
        ("Height", "59.6 mm"), ("Width", "39.7 mm"), ("Sculpt the Height", "151.0 mm"),
    ),
    "PartsPanel": ((f"30.0 {TIMES} 30.0 {TIMES} 5.0 mm", "4.5 ml, as it stands"),),
}  # fmt: skip
"""Labels and what stands right after each, in the order of the panel."""


def _by_hand(settings):
    """Return the layout made by hand, with a third cup, and what only a whole run adds to it."""
    made = layouts.layout(through_holes=2)
    (first, second), held = made.rubber.batches, SimpleNamespace(lines=("Floor: 0.91 kPa",))
    third = dataclasses.replace(first, a_g=70.2, b_g=7.02)
    rubber = dataclasses.replace(made.rubber, batches=(first, second, third), holding=held)
    leans = (Lean(10.0, 30.0, 0.5),)
    up, none = np.array([10.0, 20.0]), np.zeros(2)
    curve = StretchCurve(up, none, none, none, np.array([0.1, 0.4]), np.zeros((2, 2)))
    return dataclasses.replace(
        made,
        rubber=rubber,
        settings=settings,
        bubbles=dataclasses.replace(made.bubbles, leans=leans),
        cut=dataclasses.replace(made.cut, curve=curve),
        resin=dataclasses.replace(made.resin, sculpt=Sculpt(1.007, 151.0, 101.0, 51.0)),
    )


@pytest.fixture
def told(scene):
    """The scene with the results of a layout that was made by hand."""
    scene.riseline.resin.wanted_height_mm = 150.0
    scan = add("eave", shapes.box((40, 20, 60)))
    bpy.ops.riseline.work_on(name=scan.name)
    made = _by_hand(read_settings(scene))
    found = scene.riseline.results
    results.store(found, made, scan.name, "hand")
    kept.add("hand", made)
    found.pocket_row = 1
    found.shown_lean_deg, found.shown_lean_hour, found.shown_trapped_ml = 20.0, 4, 6.25
    found.shown_level_mm, found.shown_poured_ml = 51.0, 125.0
    found.cut_pull_word, found.cut_pull_stretch = "easy", 0.45
    found.cut_pull_least_n, found.cut_pull_most_n = 12.0, 34.0
    found.answer_a_g, found.answer_b_g, found.answer_g, found.answer_ml = 3.5, 4.25, 7.75, 9.0
    found.coat_mm, found.coat_is_thicker = 3.0, True
    return scene


def _in_order(wanted, pairs):
    """Return which wanted pairs are not among some, each after the one before."""
    rest, missing = list(pairs), []
    for one in wanted:
        if one in rest:
            rest = rest[rest.index(one) + 1 :]
        else:
            missing.append(one)
    return missing


def _buttons(panel, name):
    return [one for one in drawn()[panel].buttons if one.name == name]


def test_each_number_is_stored_by_the_name_of_its_place_in_the_layout(told):
    found, made = told.riseline.results, kept.layout("hand")
    results.store(found, made, "eave", "hand")
    for path in results.NUMBERS + results.COUNTS + results.MAYBE:
        stage, _, rest = path.partition(".")
        value = getattr(made, stage)
        for name in rest.split("."):
            value = None if value is None else getattr(value, name)
        stored = getattr(found, f"{stage}_{rest.replace('.', '_')}")
        assert stored == pytest.approx(value or 0.0, rel=1e-6), path
    # 20 degrees to 300 of the scan, a quarter turn: 30 counter-clockwise from +x, two on the clock
    assert found.lean_hour == 2
    (lean,) = found.leans
    assert (lean.degrees, lean.towards_deg, lean.hour) == pytest.approx((10.0, 120.0, 11))
    assert json.loads(found.stretch_curve)["end_mm"] == pytest.approx(36.35)


@pytest.mark.usefixtures("told")
def test_each_number_stands_at_its_label_in_its_unit():
    pads = drawn()
    missing = {
        panel: lost
        for panel, wanted in TOLD.items()
        if (lost := _in_order(wanted, itertools.pairwise(pads[panel].words)))
    }
    assert missing == {}


def test_a_weight_of_parts_of_a_gram_stands_there_as_the_scale_shows_it(told):
    """Blender keeps 35.1 as 35.0999985: nobody is to read that off a panel."""
    batch = told.riseline.results.batches[0]
    for grams, shown in ((35.1, "35.1"), (4432.3, "4432.3"), (12345.67, "12345.67"), (0.3, "0.3")):
        batch.b_g = grams
        assert f"B {shown} g" in drawn()["RubberPanel"].words


@pytest.mark.usefixtures("told")
def test_a_warning_stands_in_its_own_panel_with_the_way_to_its_place():
    panels = {"ScanPanel": "scan", "BubblesPanel": "bubbles", "CasePanel": "case"}
    pads = drawn()
    says = {
        "scan": "The scan says so.",
        "bubbles": "The bubbles say so.",
        "case": "The case says so.",
    }
    for panel, pad in pads.items():
        said = {stage for stage, text in says.items() if text in pad.words}
        assert said == ({panels[panel]} if panel in panels else set()), panel
    (of_scan,), (of_case, thin) = (
        _buttons(one, ids.SHOW_PLACE) for one in ("ScanPanel", "CasePanel")
    )
    # x, y, z of the scan's frame, a quarter turn counter-clockwise, then 5 along x and 8 back
    assert tuple(of_scan.told.at_mm) == pytest.approx((5.0, 12.0, 30.0))
    assert tuple(of_case.told.at_mm) == pytest.approx((1.0, 2.0, 3.0))  # told in the job's frame
    assert tuple(thin.told.at_mm) == pytest.approx((5.0, -28.0, 30.0))
    assert _buttons("BubblesPanel", ids.SHOW_PLACE) == []


def test_a_pocket_without_a_way_out_says_so_and_another_does_not(told):
    assert not any("It has no way out" in one for one in drawn()["BubblesPanel"].words)
    told.riseline.results.pockets[1].kind = "inside"
    assert any("It has no way out" in one for one in drawn()["BubblesPanel"].words)


def test_each_button_of_a_stage_says_what_it_is_about(told):
    (case,) = _buttons("CaseChoicesPanel", ids.TAKE_CASE)
    assert (case.told.kind, case.told.tube) == ("stock tube", "PVC 125")
    parts = _buttons("PartsPanel", ids.EXPORT_PART)
    assert [one.told.part for one in parts] == ["Base board", "Bügel & Haken", "base-board"]
    starts = _buttons("CutWherePanel", ids.SET_SLIT_START)
    assert [(one.text, one.told.where) for one in starts] == [
        ("Lock Start", "KEEP"), ("At Cursor", "CURSOR"), ("Free", "FREE"),
    ]  # fmt: skip
    told.riseline.lean, told.riseline.lean_hour = 0.25, 7
    upright, lean = _buttons("BubblesPanel", ids.LEAN_CASE)
    assert (upright.text, upright.told.lean) == ("Stand Upright", 0.0)
    assert (lean.told.lean, lean.told.hour) == (0.25, 7)
    for panel, stage in (("RISELINE_PT_case_settings", "case"), ("MoldPanel", "")):
        (reset,) = _buttons(panel, ids.RESET_STAGE)
        assert reset.told.stage == stage


def test_what_is_out_of_date_is_said_where_it_is_and_run_alone_for_the_piece_at_work(told):
    named = {"CasePanel": "case", "FunnelPanel": "funnel", "ResinPanel": "resin"}
    assert not any(_buttons(panel, ids.LAY_OUT) for panel in named)
    assert not any("Changed since" in one for one in drawn()["MoldPanel"].words)
    told.riseline.resin.shell_mm = 5.0
    for panel, stage in named.items():
        buttons = _buttons(panel, ids.LAY_OUT)
        assert [(one.told.only, one.told.at_work) for one in buttons] == (
            [("resin", True)] if stage == "resin" else []
        )
    assert "Changed since: Resin." in drawn()["MoldPanel"].words
    step, again = _buttons("MoldPanel", ids.LAY_OUT)
    assert (step.text, vars(step.told)) == ("Update Resin", {"at_work": True})
    assert vars(again.told) == {"afresh": True, "at_work": True}


def test_the_way_back_on_the_tour_is_a_button_of_its_own(told):
    for stop in range(len(STOPS) + 1):
        told.riseline.tour = stop
        buttons = _buttons("MoldPanel", ids.NEXT_STOP)
        back = [getattr(one.told, "back", False) for one in buttons]
        on = [False] if stop < len(STOPS) else []
        assert back == ([True] if stop > 1 else []) + on, stop


def test_the_first_panel_says_whose_numbers_these_are_where_there_are_several(told):
    assert drawn()["MoldPanel"].words.count("eave") == 1  # at the size; numbers need no name
    other = told.riseline_parked.add()
    other.piece = add("gable", shapes.box((40, 20, 60)))
    assert drawn()["MoldPanel"].words.count("eave") >= 2


def test_two_stages_stand_on_the_button_by_name_and_more_do_not(told):
    told.riseline.results.repainted = True  # the map and the coat, nothing else
    assert _buttons("MoldPanel", ids.LAY_OUT)[0].text == "Update Bubbles, Rubber"
    told.riseline.results.restocked = True
    assert _buttons("MoldPanel", ids.LAY_OUT)[0].text == "Update Layout"


def test_a_part_too_large_for_the_bed_says_by_how_much_and_the_others_say_nothing(told):
    assert not any("too large" in one for one in drawn()["PartsPanel"].words)
    told.riseline.results.parts[1].over_bed_mm = 7.5
    said = [one for one in drawn()["PartsPanel"].words if "too large" in one]
    assert [one.partition(" too")[0] for one in said] == ["7.5 mm"]


@pytest.mark.parametrize("kind", ["rubber", "resin"])
def test_the_densities_of_both_parts_are_asked_for_where_they_are_mixed_by_volume(told, kind):
    group = getattr(told.riseline, kind)
    for mix_by, asked in (("mass", set()), ("volume", {"a_density_kg_m3", "b_density_kg_m3"})):
        group.mix_by = mix_by
        fields = {name for _, name in drawn()[f"RISELINE_PT_{kind}_data_sheet"].fields}
        assert fields & {"a_density_kg_m3", "b_density_kg_m3"} == asked


def test_nobody_is_asked_for_the_size_of_a_scan_that_is_not_worked_on(told):
    assert "measured" in {name for _, name in drawn()["MoldPanel"].fields}
    told.objects["eave"].select_set(state=False)
    add("gable", shapes.box((40, 20, 60)))
    assert "measured" not in {name for _, name in drawn()["MoldPanel"].fields}
    assert _buttons("MoldPanel", ids.WORK_ON)[0].told.name == "gable"


def test_each_part_is_offered_under_the_name_that_the_whole_export_gives_it(told):
    parts = kept.layout("hand").parts
    names = [part_file(told, one.name) for one in parts.parts]
    assert names == [PurePosixPath(one).name for one in part_stems(parts)]
    assert len(set(names)) == len(parts.parts)


def test_what_a_stage_took_is_what_the_next_run_is_thought_to_take():
    made = layouts.layout()
    kept.add("hand", made)
    assert made.timings_s["Cut"] == 1.5
    assert kept.pace_s["Cut"] == 1.5
    assert list(kept.pace_s) == list(COMMON_PACE_S)
    kept.forget()
