"""The few numbers that matter most, in words that fit the case at hand."""

from __future__ import annotations

import pytest

from blender_addon.core.case.case import KINDS
from blender_addon.ui.headlines import headlines

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
