"""Settings that cannot be made: refused at their field, in the words of the panels."""

from __future__ import annotations

import re

import bpy
import pytest

from blender_addon.bridge.kept import kept
from blender_addon.bridge.properties import setting_fields, shown_name
from blender_addon.bridge.worded import refused_at, worded
from blender_addon.core.fields import spec_of
from blender_addon.core.settings import Settings, as_tables
from tests.core.readings import differs

REFUSED = [
    ({"scan.height_mm": 40.0, "scan.riser_mm": 50.0}, "scan.riser_mm", "on it only 40.0 mm"),
    ({"case.kind": "stock tube", "case.least_rubber_mm": 180.0}, "case.kind", "less than needed"),
    ({"case.kind": "printed round", "parts.board_mm": 3.0}, "parts.groove_mm",
     "Take a thicker Board (Parts)"),
    ({"case.kind": "printed round", "parts.seam": "cord", "parts.cord_mm": 6.0}, "parts.cord_mm",
     "Printed Wall (Case)"),
]  # fmt: skip


def test_a_setting_that_cannot_be_made_is_refused_at_its_field_in_the_panels_words(scene, scan):
    assert scan.select_get()
    for asked, field, says in REFUSED:
        for key, value in asked.items():
            stage, name = key.split(".")
            setattr(getattr(scene.riseline, stage), name, value)
        with pytest.raises(RuntimeError):
            bpy.ops.riseline.lay_out()
        found, why = refused_at(kept.trouble)
        assert found == field
        assert says in why
        _, in_inches = refused_at(kept.trouble, inches=True)
        assert differs(why, in_inches) is None
        assert not re.search(r"\bmm\b", in_inches)
        assert not re.search(r"\b[a-z]+\.[a-z]+_[a-z_]+", worded(kept.trouble)), "no label"
        for key in asked:
            stage, name = key.split(".")
            getattr(scene.riseline, stage).property_unset(name)
    # mended, it is laid out, and nothing is refused any more
    bpy.ops.riseline.lay_out()
    assert refused_at(kept.trouble) == ("", "")


def test_a_bed_too_small_for_the_case_leaves_the_layout_and_says_so_at_the_parts(scene, scan):
    assert scan.select_get()
    scene.riseline.case.least_rubber_mm = 60.0
    scene.riseline.parts.bed_x_mm = scene.riseline.parts.bed_y_mm = 60.0
    bpy.ops.riseline.lay_out()
    found = scene.riseline.results
    assert found.rubber_mass_g > 0.0
    told = [one.text for one in found.warnings if one.stage == "parts"]
    assert any("too large for the print bed" in text and "case" in text for text in told)
    assert "from Bed Width (Parts) on" in worded(" ".join(told))
    marked = {part.name for part in found.parts if part.over_bed_mm > 0.0}
    assert any(name.startswith("case") for name in marked)


@pytest.mark.parametrize("stage", ["case", "funnel", "parts"])
@pytest.mark.parametrize("value", [-5.0, 0.0, 1e7])
def test_no_size_below_or_beyond_its_range_can_be_typed_in_the_window(scene, stage, value):
    group = getattr(scene.riseline, stage)
    for field in setting_fields(stage):
        spec = spec_of(field)
        if spec.unit != "mm":
            continue
        setattr(group, field.name, value)
        found = getattr(group, field.name)
        assert spec.low - 1e-4 <= found <= spec.high + 1e-2, field.name
        assert hasattr(group, shown_name(field))


def test_every_setting_has_its_label_and_other_words_stay():
    for stage, table in as_tables(Settings()).items():
        for name in table if isinstance(table, dict) else ():
            key = f"{stage}.{name}"
            assert key not in worded(f"Raise {key} a little."), key
    assert worded("Written to parts.stl, not cut.short.") == "Written to parts.stl, not cut.short."
    assert refused_at("Setting name: missing") == ("", "")
