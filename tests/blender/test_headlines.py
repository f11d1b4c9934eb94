"""The few numbers that matter most, in words that fit the case at hand."""

from __future__ import annotations

import pytest

from blender_addon.core.case.case import KINDS
from blender_addon.ui.headlines import headlines
from blender_addon.ui.overlay import lines_of
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
    assert lines_of(scene, 1.0)[0][1].startswith(told[-1])  # from the lowest up
