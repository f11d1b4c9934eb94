"""Presets are settings like any others, and a file of settings goes over them."""

from __future__ import annotations

import pytest

from blender_addon.core.presets import PRESETS, preset
from blender_addon.core.settings import Settings, as_tables, load


def test_every_preset_is_within_the_ranges_and_medium_is_what_settings_begin_with():
    assert list(PRESETS) == ["small", "medium", "large"]
    assert preset("medium") == Settings()
    assert all(preset(name) != Settings() for name in ("small", "large"))


def test_what_grows_with_the_piece_grows_from_preset_to_preset():
    tables = [as_tables(preset(name)) for name in PRESETS]
    for stage, table in PRESETS["small"].items():
        for key in table:
            small, medium, large = (one[stage][key] for one in tables)
            assert small < medium <= large, (stage, key)


def test_a_file_of_settings_goes_over_a_preset(tmp_path):
    file = tmp_path / "own.toml"
    file.write_text("[case]\ncover_mm = 33\n", encoding="utf-8")
    found = load(file, preset("large"))
    assert found.case.cover_mm == pytest.approx(33.0)
    assert found.case.least_rubber_mm == preset("large").case.least_rubber_mm


def test_an_unknown_preset_is_no_preset():
    with pytest.raises(KeyError):
        preset("huge")
