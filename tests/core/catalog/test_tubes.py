"""The list of tubes says what the standards say, and refuses what it cannot use."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from blender_addon.core.catalog.tubes import Tube, tubes
from blender_addon.core.errors import BadSettingError, RiselineError, UnreadableFileError

REFERENCE = json.loads(
    (Path(__file__).parents[2] / "reference" / "tubes.json").read_text(encoding="utf-8")
)
BY_NAME = {tube.name: tube for tube in tubes()}


def written(folder, text):
    path = folder / "tubes.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("row", REFERENCE["astm_d1785_schedule_40"]["rows"])
def test_schedule_40_pipe_is_as_wide_inside_as_its_standard_says(row):
    size, outside_in, outside_tolerance_in, wall_in, wall_tolerance_in = row
    tube = BY_NAME[f"PVC pipe {size} in Schedule 40"]
    assert tube.standard == "ASTM D1785"
    assert tube.wall_mm == pytest.approx(25.4 * wall_in, abs=0.006)
    assert tube.inner_diameter_mm == pytest.approx(25.4 * (outside_in - 2 * wall_in), abs=0.011)
    least_in = outside_in - outside_tolerance_in - 2 * (wall_in + wall_tolerance_in)
    assert tube.least_inner_diameter_mm == pytest.approx(25.4 * least_in, abs=0.011)


@pytest.mark.parametrize(
    ("outside_mm", "wall_mm", "least_inside_mm"), REFERENCE["en_1401_sn4"]["rows"]
)
def test_drain_pipe_is_as_wide_inside_as_its_standard_says(outside_mm, wall_mm, least_inside_mm):
    tube = BY_NAME[f"PVC-U drain pipe {outside_mm} SN 4"]
    assert tube.standard == "EN 1401-1"
    assert tube.wall_mm == wall_mm
    assert tube.inner_diameter_mm == pytest.approx(outside_mm - 2 * wall_mm, abs=1e-9)
    assert tube.least_inner_diameter_mm == least_inside_mm


@pytest.mark.parametrize(("outside_mm", "inside_mm"), REFERENCE["acrylic"]["rows"])
def test_acrylic_tube_has_the_two_widths_of_its_name(outside_mm, inside_mm):
    tube = BY_NAME[f"acrylic tube {outside_mm}/{inside_mm}"]
    assert tube.inner_diameter_mm == inside_mm
    assert tube.wall_mm == (outside_mm - inside_mm) / 2


def test_list_holds_nothing_that_no_reference_knows():
    known = sum(
        len(REFERENCE[key]["rows"]) for key in ("astm_d1785_schedule_40", "en_1401_sn4", "acrylic")
    )
    assert len(tubes()) == len(BY_NAME) == known


def test_every_tube_says_where_its_size_is_from():
    assert all(tube.source for tube in tubes())


def test_tubes_come_narrowest_first():
    widths = [tube.inner_diameter_mm for tube in tubes()]
    assert widths == sorted(widths)


def test_own_list_takes_the_place_of_the_common_sizes(tmp_path):
    path = written(
        tmp_path,
        """
        [[tube]]
        name = "board roll"
        inner_diameter_mm = 150
        wall_mm = 5.5
        [[tube]]
        name = "drain offcut"
        inner_diameter_mm = 103.2
        wall_mm = 3.2
        least_inner_diameter_mm = 102.0
        standard = "EN 1401-1"
        source = "measured"
        """,
    )
    assert tubes(path) == (
        Tube("drain offcut", 103.2, 3.2, 102.0, "EN 1401-1", "measured"),
        Tube("board roll", 150.0, 5.5, 150.0),
    )


def test_missing_list_is_named(tmp_path):
    with pytest.raises(UnreadableFileError, match=r"nowhere\.toml: no tubes can be read"):
        tubes(tmp_path / "nowhere.toml")


@pytest.mark.parametrize("text", ["[[tube", "\x00", "name = "])
def test_what_is_no_toml_is_refused(tmp_path, text):
    with pytest.raises(UnreadableFileError, match=r"tubes\.toml: no tubes can be read"):
        tubes(written(tmp_path, text))


def test_what_is_no_text_is_refused(tmp_path):
    path = tmp_path / "tubes.toml"
    path.write_bytes(b"\xff\xfe\x00[[tube]]")
    with pytest.raises(UnreadableFileError, match="no tubes can be read"):
        tubes(path)


@pytest.mark.parametrize("text", ["", "tube = 3", "tube = []", "[pipe]\nname = 'a'"])
def test_list_without_a_tube_is_refused(tmp_path, text):
    with pytest.raises(UnreadableFileError, match="lists no tube"):
        tubes(written(tmp_path, text))


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("inner_diameter_mm = 90\nwall_mm = 3", "tube 1 of .* has no name"),
        ("name = ' '\ninner_diameter_mm = 90\nwall_mm = 3", "has no name"),
        ("name = 'a'\nwall_mm = 3", r"tube 1 of .* \(a\) has no inner_diameter_mm"),
        ("name = 'a'\ninner_diameter_mm = 90", "has no wall_mm"),
        ("name = 'a'\ninner_diameter_mm = '90'\nwall_mm = 3", "has no inner_diameter_mm"),
        ("name = 'a'\ninner_diameter_mm = true\nwall_mm = 3", "has no inner_diameter_mm"),
        ("name = 'a'\ninner_diameter_mm = 0\nwall_mm = 3", "must be above 0 mm"),
        ("name = 'a'\ninner_diameter_mm = -90\nwall_mm = 3", "must be above 0 mm"),
        ("name = 'a'\ninner_diameter_mm = inf\nwall_mm = 3", "must be above 0 mm"),
        ("name = 'a'\ninner_diameter_mm = nan\nwall_mm = 3", "must be above 0 mm"),
        ("name = 'a'\ninner_diameter_mm = 90\nwall_mm = nan", "must be above 0 mm"),
    ],
)
def test_tube_that_lacks_something_is_named(tmp_path, row, says):
    with pytest.raises(BadSettingError, match=says) as caught:
        tubes(written(tmp_path, "[[tube]]\n" + row))
    assert isinstance(caught.value, RiselineError)
    assert caught.value.name == "stock_file"


def test_row_that_is_no_table_is_refused(tmp_path):
    with pytest.raises(BadSettingError, match=r"tube 1 of .* is not a table"):
        tubes(written(tmp_path, "tube = [90, 100]"))
