"""A scene set to imperial units: every word of the window that tells a length uses inches."""

from __future__ import annotations

import re

import bpy
import pytest

from blender_addon.bridge.both_units import shown
from blender_addon.bridge.names import BANDS
from blender_addon.ui.headlines import headlines
from blender_addon.ui.legend import band_text
from tests.blender.drawn import drawn
from tests.core.readings import differs

METRIC = re.compile(r"(?<!\w)(mm|cm|cm²|millimet\w+)(?!\w)", re.IGNORECASE)


def provoke(stored):
    """Ask for what gives warnings with lengths in them."""
    stored.case.cover_mm = 4.0
    stored.case.kind = "printed round"
    stored.resin.shell_mm = 40.0
    stored.cut.elongation_percent = 60.0


def words_of(pads):
    """Return all words of drawn panels, with the panel that they are on."""
    return [(panel, word) for panel, pad in pads.items() for word in pad.words]


def test_no_panel_of_an_imperial_scene_tells_a_metric_length(scene, scan):
    assert scan.select_get()
    provoke(scene.riseline)
    bpy.ops.riseline.lay_out()
    found = scene.riseline.results
    warned = [one for one in found.warnings if METRIC.search(one.text)]
    assert len(warned) >= 2, "nothing was provoked"
    metric = words_of(drawn())
    assert any(METRIC.search(word) for _, word in metric), "a planted fault would not be seen"
    scene.unit_settings.system = "IMPERIAL"
    told = [(panel, word) for panel, word in words_of(drawn()) if METRIC.search(word)]
    assert told == []
    for one in warned:
        assert differs(one.text, shown(scene, one, "text")) is None
    for text in [value for _, value in headlines(scene)] + [band_text(scene, one) for one in BANDS]:
        assert not METRIC.search(text)


def test_a_refusal_in_an_imperial_scene_is_told_in_inches_in_the_panel(scene, scan):
    assert scan.select_get()
    scene.unit_settings.system = "IMPERIAL"
    scene.riseline.scan.height_mm, scene.riseline.scan.riser_mm = 40.0, 50.0
    with pytest.raises(RuntimeError, match=r"1\.97 in high, the piece on it only 1\.57 in"):
        bpy.ops.riseline.lay_out()
    told = " ".join(drawn()["MoldPanel"].words)
    assert "1.97 in high" in told
    assert not METRIC.search(told)


def test_an_area_typed_in_square_inches_is_the_one_that_is_kept(scene):
    bubbles = scene.riseline.bubbles
    bubbles.least_island_in2 = 0.5
    assert abs(bubbles.least_island_cm2 - 0.5 * 2.54**2) < 1e-6


def test_a_sentence_that_an_old_file_keeps_in_millimetres_alone_is_told_so(scene):
    scene.unit_settings.system = "IMPERIAL"
    found = scene.riseline.results
    found.case_name = "tube of 110 mm"
    assert shown(scene, found, "case_name") == "tube of 110 mm"
    found.case_name_inches = "tube of 4.33 in"
    assert shown(scene, found, "case_name") == "tube of 4.33 in"
