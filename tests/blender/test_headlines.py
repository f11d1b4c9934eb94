"""The few numbers that matter most, in words that fit the case at hand."""

from __future__ import annotations

import pytest

from blender_addon.bridge import materials, names
from blender_addon.core.case.case import KINDS
from blender_addon.ui import overlay
from blender_addon.ui.headlines import headlines
from tests.blender.drawn import drawn

WORDS = {
    "stock tube": ("Tube, Inside", "Tube, Height"),
    "printed round": ("Case, Inside", "Case, Height"),
    "printed oval": ("Case, Widest", "Case, Height"),
    "printed contour": ("Case, Widest", "Case, Height"),
}


@pytest.mark.parametrize("kind", WORDS)
def test_size_and_height_are_of_a_tube_only_where_there_is_one(scene, kind):
    found = scene.riseline.results
    found.case_kind, found.case_inner_diameter_mm, found.case_height_mm = kind, 103.6, 96.4
    told = dict(headlines(scene))
    assert [label for label in told if label.startswith(("Case", "Tube"))] == [*WORDS[kind]]
    assert "103.6" in told[WORDS[kind][0]]
    assert "96.4" in told[WORDS[kind][1]]


def test_every_kind_of_case_has_its_words():
    assert set(WORDS) == set(KINDS) - {"automatic"}


def test_the_rubber_to_weigh_is_the_first_number_on_the_panel_and_the_last_in_the_view(scene):
    scene.riseline.results.token = "of a layout"  # noqa: S105 - no secret
    words = drawn()["MoldPanel"].words
    told = [label for label, _ in headlines(scene)]
    at = [words.index(label) for label in told]
    assert at[-1] == min(at)
    assert at[:-1] == sorted(at[:-1])
    assert words[at[-1] + 1] == dict(headlines(scene))[told[-1]]
    assert overlay.lines_of(scene, 1.0)[0][1].startswith(told[-1])  # from the lowest up


def test_the_rubber_to_weigh_stands_largest_and_the_piece_at_the_top_where_it_is_gone(scene):
    found = scene.riseline.results
    found.token, found.source, found.rubber_mass_g = "hand", "frog", 2345.0
    found.rubber_mix_ml, found.bubbles_trapped_ml = 1111.0, 3.0
    lines = overlay.lines_of(scene, 1.0)
    assert lines[0] == (overlay.LARGEST_PT, "Rubber to Weigh  2.35 kg")
    assert max(size for size, _ in lines[1:]) < overlay.LARGEST_PT
    assert [text for _, text in lines[-2:]] == ["Trapped Air  3.0 ml", "frog (Deleted)"]


def test_the_legend_tells_the_limits_of_each_colour_and_the_gravest_first(scene):
    stored = scene.riseline
    stored.case.least_rubber_mm = 10.0
    for kind in (*names.CLASSES, *names.BANDS):
        materials.get(kind)
    assert [text for text, _ in overlay.legend_of(scene)] == list(names.CLASSES[:0:-1])
    stored.show_thickness = True
    # the bands end at 1, 1.5 and 2.5 times the least rubber
    told = ["Under 10.0 mm", "Under 15.0 mm", "Under 25.0 mm", "Over 25.0 mm"]
    assert [text for text, _ in overlay.legend_of(scene)] == told
    stored.show_thickness = stored.show_map = False
    assert overlay.legend_of(scene) == []
