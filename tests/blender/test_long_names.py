"""Names of scans, tubes and materials, as long as people give them, where there is little room."""

from __future__ import annotations

import blf
import bpy
import pytest

from blender_addon.ui import overlay
from blender_addon.ui.headlines import headlines, named
from blender_addon.ui.panels.drawing import fitted
from blender_addon.ui.shortened import DOTS, panel_letters_pt, shortened, without_middle
from blender_addon.ui.wrapped import wrapped
from tests import shapes
from tests.blender.drawn import SIDEBAR_PX, context, drawn

from .conftest import add

LONG = "GARDEN DRAGON scan of the third of November, second try, cleaned"
TOKEN = "of a layout that is not in memory"  # noqa: S105 - no secret
FRAME_PX = 56
"""From memory of a picture of the window: what panel, box and icon take of the sidebar."""


def _wide_px(text, size_pt):
    blf.size(0, size_pt)
    return blf.dimensions(0, text)[0]


@pytest.mark.parametrize("room_px", [80.0, 120.0, 200.0, 224.0])
def test_a_shortened_name_fits_and_begins_and_ends_as_the_whole_one(room_px):
    short = shortened(LONG, room_px, 11.0)
    assert _wide_px(short, 11.0) <= room_px
    first, last = short.split(DOTS)
    assert LONG.startswith(first)
    assert LONG.endswith(last)
    assert min(len(first), len(last)) >= 2
    longer = without_middle(LONG, len(short) + 3)
    assert _wide_px(longer, 11.0) > room_px - 20.0, "more of it would have fitted"


def test_a_name_that_fits_stays_whole():
    assert shortened("hedgehog", 200.0, 11.0) == "hedgehog"
    assert fitted(context(), "Rubber of the Second Try") == "Rubber of the Second Try"


def test_no_place_of_the_first_panel_cuts_a_long_name_off(scene):
    first, second = (add(f"{LONG} {number}", shapes.box((30, 40, 50))) for number in (1, 2))
    seen = [*_long(drawn()["MoldPanel"])]  # Use … Instead
    bpy.ops.riseline.work_on(name=first.name)
    seen += _long(drawn()["MoldPanel"])  # the piece at work
    first.select_set(state=False)
    second.select_set(state=True)
    bpy.context.view_layer.objects.active = second
    seen += _long(drawn()["MoldPanel"])  # Work on …
    bpy.ops.riseline.work_on(name=second.name)
    scene.riseline.results.token = TOKEN
    seen += _long(drawn()["MoldPanel"])  # menu of pieces, and whose numbers these are
    assert len(seen) >= 5
    room_px = SIDEBAR_PX - FRAME_PX
    assert [one for one in seen if _wide_px(one, panel_letters_pt()) > room_px] == []


def _long(pad):
    return [one for one in pad.words if DOTS in one or LONG in one]


def test_a_long_name_of_a_tube_or_a_pot_is_shortened_in_its_row(scene):
    found = scene.riseline.results
    found.token = TOKEN
    choice = found.choices.add()
    choice.name, choice.kind = f"{LONG} 110 mm", "stock tube"
    pot = found.pots.add()
    pot.name = f"{LONG} 20 l"
    pads = drawn()
    tube = [one.text for one in pads["CaseChoicesPanel"].buttons if DOTS in one.text]
    assert len(tube) == 1
    assert tube[0].endswith("110 mm")
    assert any(DOTS in one and one.endswith("20 l") for one in pads["PotsPanel"].words)


def test_a_long_name_makes_no_number_in_the_view_smaller(scene):
    found = scene.riseline.results
    found.token, found.source, found.rubber_mass_g = TOKEN, "dragon", 2180.0
    short = overlay.size_px(overlay.lines_of(scene, 1.0), [], 1.0)
    found.source = LONG * 3
    assert named(scene).startswith(LONG)
    lines = overlay.lines_of(scene, 1.0)
    assert overlay.size_px(lines, [], 1.0) == short
    assert DOTS in lines[-1][1]
    assert len(lines) == len(headlines(scene)) + 1


@pytest.mark.parametrize(
    ("folder", "lines"),
    [
        ("/home/potter/garden/toad_mold", ["Parts are in /home/", "potter/garden/", "toad_mold"]),
        (r"C:\Users\potter\garden\toad", ["Parts are in C:\\", "Users\\potter\\garden\\", "toad"]),
        (
            "/mold_of_a_toadstool_with_its_cap",
            ["Parts are in /mold_o", "f_a_toadstool_with_i", "ts_cap"],
        ),
        ("kg/l or g/ml, as you like", ["Parts are in kg/l or", "g/ml, as you like"]),
    ],
)
def test_a_path_is_parted_between_its_folders_and_words_are_not(folder, lines):
    assert wrapped(f"Parts are in {folder}", 20) == lines
