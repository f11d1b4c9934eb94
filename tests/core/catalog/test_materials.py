"""Lists of materials and pots: the common classes, one's own, and what is refused."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest

from blender_addon.core.catalog.materials import (
    Resin,
    Rubber,
    materials_text,
    resins,
    rubbers,
    settings_of,
)
from blender_addon.core.catalog.pots import Pot, pots, pots_text
from blender_addon.core.errors import BadSettingError, UnreadableFileError
from blender_addon.core.settings import as_tables, from_tables

# Ranges of common classes, common practice, no source: density kg/m3, viscosity Pa s, pot life min,
# demold h, elongation %, by Shore A.
RUBBER_RANGES = {
    10: ((1060, 1150), (5, 20), (20, 60), (4, 24), (500, 1000)),
    15: ((1070, 1180), (8, 25), (20, 60), (4, 24), (450, 800)),
    20: ((1080, 1200), (10, 30), (20, 60), (4, 24), (400, 650)),
    25: ((1100, 1250), (15, 35), (20, 60), (6, 24), (350, 550)),
    30: ((1120, 1300), (15, 40), (20, 60), (6, 24), (280, 450)),
    40: ((1150, 1350), (20, 50), (20, 60), (6, 24), (180, 350)),
}
# density kg/m3, viscosity Pa s, pot life min, demold h, linear shrink %
RESIN_RANGES = {
    "fast polyurethane": ((1030, 1100), (0.05, 0.15), (2, 4), (1 / 6, 0.5), (0.3, 1.0)),
    "slow polyurethane": ((1030, 1100), (0.08, 0.3), (5, 15), (1, 4), (0.2, 0.6)),
    "epoxy": ((1080, 1200), (0.3, 5), (20, 120), (12, 48), (0.1, 0.5)),
    "polyester": ((1100, 1220), (0.3, 1), (5, 20), (0.5, 3), (1.5, 3.0)),
}


def within(ranges, values):
    return all(low <= value <= high for (low, high), value in zip(ranges, values, strict=True))


def test_common_rubbers_lie_in_the_range_of_their_class_and_say_that_they_are_typical():
    assert [one.hardness_shore_a for one in rubbers()] == list(RUBBER_RANGES)
    for one in rubbers():
        values = (
            one.density_kg_m3, one.viscosity_pa_s, one.pot_life_min, one.demold_h,
            one.elongation_percent,
        )  # fmt: skip
        assert within(RUBBER_RANGES[one.hardness_shore_a], values), one.material
        assert one.source.startswith("typical")
        assert "no source" in one.source
        assert one.material.startswith("Typical")


def test_common_resins_lie_in_the_range_of_their_class_and_say_that_they_are_typical():
    assert [one.kind for one in resins()] == list(RESIN_RANGES)
    for one in resins():
        values = (
            one.density_kg_m3, one.viscosity_pa_s, one.pot_life_min, one.demold_h,
            one.shrink_percent,
        )  # fmt: skip
        assert within(RESIN_RANGES[one.kind], values), one.material
        assert one.source.startswith("typical")


def test_lists_are_read_back_as_they_were_written(tmp_path):
    path = tmp_path / "mine.toml"
    mine = Rubber(material='the "soft" one \\ 2, ärmer\x7f', price_per_kg=31.5, b_parts=0.3)
    resin = Resin(
        material="clear", kind="epoxy", mix_by="volume", a_parts=2.0,
        density_kg_m3=1100.0, a_density_kg_m3=1150.0, b_density_kg_m3=1000.0,
    )  # fmt: skip
    path.write_text(materials_text([mine, *rubbers()], [resin]), encoding="utf-8")
    assert rubbers(path) == (mine, *rubbers())
    assert resins(path) == (resin,)


def test_whole_numbers_are_numbers(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text('[[rubber]]\nname = "x"\ndensity_kg_m3 = 1200\n', encoding="utf-8")
    assert rubbers(path)[0].density_kg_m3 == 1200.0
    assert resins(path) == ()


@pytest.mark.parametrize(
    ("text", "error", "words"),
    [
        ("nonsense", UnreadableFileError, "no list can be read"),
        ("a = 1", UnreadableFileError, "no [[rubber]]"),
        ("rubber = 3", UnreadableFileError, "no list of tables"),
        ("[[rubber]]\ndensity_kg_m3 = 1200", BadSettingError, "rubber 1 of .* has no name"),
        ('[[rubber]]\nname = "x"\ncolor = 3', BadSettingError, "unknown key color"),
        ('[[rubber]]\nname = "x"\ndensity_kg_m3 = 0', BadSettingError, "0 is out of range"),
        ('[[rubber]]\nname = "x"\ndensity_kg_m3 = -1100', BadSettingError, "out of range"),
        ('[[rubber]]\nname = "x"\nb_parts = 0', BadSettingError, "b_parts: 0 is out of range"),
        ('[[rubber]]\nname = "x"\npot_life_min = "long"', BadSettingError, "not a number"),
        ('[[rubber]]\nname = "x"\npot_life_min = nan', BadSettingError, "out of range"),
        ('[[rubber]]\nname = "x"\nmix_by = "eye"', BadSettingError, "'eye' is unknown"),
        ('[[rubber]]\nname = "x"\nmix_by = "volume"', BadSettingError, "a_density_kg_m3: missing"),
        ('[[rubber]]\nname = "x"\n[[rubber]]\nname = "x"', BadSettingError, "'x' twice"),
    ],
)
def test_a_bad_list_is_refused_with_the_row_and_the_reason(tmp_path, text, error, words):
    path = tmp_path / "bad.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(error, match=words.replace("[", r"\[")):
        rubbers(path)


def test_a_missing_list_is_refused(tmp_path):
    with pytest.raises(UnreadableFileError, match=re.escape("no list can be read")):
        rubbers(tmp_path / "none.toml")


def test_densities_of_parts_that_contradict_the_mix_are_refused():
    # 1200 and 1000 mix to 1100 by volume; 1300 is none of it
    parts = {"mix_by": "volume", "a_parts": 1.0, "a_density_kg_m3": 1200, "b_density_kg_m3": 1000}
    assert Rubber(density_kg_m3=1120.0, **parts).density_kg_m3 == 1120.0
    with pytest.raises(BadSettingError, match="they mix to 1100 kg/m3"):
        Rubber(density_kg_m3=1300.0, **parts)


def test_a_material_in_the_settings_fills_what_is_not_set_beside_it(tmp_path):
    path = tmp_path / "mine.toml"
    mine = Rubber(material="mine", density_kg_m3=1234.0, elongation_percent=333.0)
    path.write_text(materials_text([mine], []), encoding="utf-8")
    rubber = {"material": "mine", "materials_file": str(path), "cup_ml": 700, "pot_life_min": 55}
    found = from_tables({"rubber": rubber, "resin": {"material": "Typical Epoxy"}})
    assert (found.rubber.density_kg_m3, found.rubber.cup_ml) == (1234.0, 700.0)
    assert found.rubber.pot_life_min == 55.0
    assert found.cut.elongation_percent == 333.0
    assert found.bubbles.coat_density_kg_m3 == 1234.0
    assert found.resin.kind == "epoxy"
    again = from_tables({"rubber": rubber, "cut": {"elongation_percent": 200}})
    assert again.cut.elongation_percent == 200.0


def test_a_material_that_is_in_no_list_is_refused_unless_its_values_stand_beside_it():
    with pytest.raises(BadSettingError, match="'unobtainium' is not in the list"):
        from_tables({"rubber": {"material": "unobtainium"}})
    beside = from_tables({"rubber": {"material": "unobtainium", "density_kg_m3": 1300}})
    assert beside.rubber.density_kg_m3 == 1300.0


def test_what_a_material_fills_in_are_settings():
    for one in (*rubbers(), *resins()):
        told = settings_of(one)
        found = as_tables(from_tables(told))
        assert {stage: {key: found[stage][key] for key in told[stage]} for stage in told} == told
        assert told


def test_no_common_material_names_a_product():
    listed = Path(__file__).parents[3] / "blender_addon/core/catalog/materials.toml"
    assert not re.search(r"[®™]|\bTM\b", listed.read_text(encoding="utf-8"))


POT = Pot("the blue one", "pressure", 250.0, 300.0, 400.0)


def test_pots_are_read_back_as_they_were_written(tmp_path):
    path = tmp_path / "pots.toml"
    path.write_text(pots_text([POT, dataclasses.replace(POT, kind="vacuum")]), encoding="utf-8")
    assert pots(path) == (POT, dataclasses.replace(POT, kind="vacuum"))


@pytest.mark.parametrize("key", ["name", "kind", "inner_diameter_mm", "depth_mm", "rated_kpa"])
def test_nothing_about_a_pot_is_guessed(tmp_path, key):
    path = tmp_path / "pots.toml"
    lines = [line for line in pots_text([POT]).splitlines() if not line.startswith(key)]
    path.write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(BadSettingError, match=f"has no {key}"):
        pots(path)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("400.0", "0", "rated_kpa: 0 is out of range"),
        ("250.0", "-250.0", "out of range"),
        ('"pressure"', '"steam"', "'steam' is unknown"),
        ("depth_mm", 'color = "blue"\ndepth_mm', "unknown key color"),
    ],
)
def test_a_bad_pot_is_refused(tmp_path, old, new, words):
    path = tmp_path / "pots.toml"
    path.write_text(pots_text([POT]).replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BadSettingError, match=words):
        pots(path)
