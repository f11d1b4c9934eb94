"""The user's own tubes in a table: what is read, what is written, and what is refused."""

from __future__ import annotations

import csv

import pytest

from blender_addon.core.catalog.tube import Tube
from blender_addon.core.catalog.tube_csv import read_tube_csv, tube_csv_text, tubes_of_csv
from blender_addon.core.catalog.tubes import tubes
from blender_addon.core.errors import UnreadableFileError

HEAD = "name,outer_diameter_mm,inner_diameter_mm,material,length_mm,price_per_m\n"
SHELF = (
    Tube("drain 110", 103.6, 3.2, 103.6, material="PVC", length_mm=640.0, price_per_m=7.5),
    Tube('column, "tall"', 190.0, 5.0, 190.0),
)


def test_a_table_holds_what_a_maker_knows_of_a_tube():
    (tube,) = tubes_of_csv(HEAD + "drain,110,103.6,PVC,900,7.5\n", "shelf")
    assert tube == Tube("drain", 103.6, 3.2, 103.6, material="PVC", length_mm=900, price_per_m=7.5)


def test_what_is_written_is_read_back_the_same():
    assert tubes_of_csv(tube_csv_text(SHELF), "shelf") == SHELF


def test_what_is_written_is_a_table_to_a_general_reader():
    rows = list(csv.DictReader(tube_csv_text(SHELF).splitlines()))
    assert [row["name"] for row in rows] == [one.name for one in SHELF]
    assert [float(row["outer_diameter_mm"]) for row in rows] == [110, 200]
    assert rows[1]["length_mm"] == ""


def test_inches_and_feet_are_taken_by_the_names_of_the_columns():
    # NIST SP 811, appendix B: 25.4 mm to the inch, 0.3048 m to the foot
    text = "name,outer_diameter_in,inner_diameter_in,length_in,price_per_ft\nold,4.5,4,36,3.048\n"
    (tube,) = tubes_of_csv(text, "shelf")
    assert (tube.outer_diameter_mm, tube.inner_diameter_mm) == pytest.approx((114.3, 101.6))
    assert tube.length_mm == pytest.approx(914.4)
    assert tube.price_per_m == pytest.approx(10)


def test_a_row_may_be_measured_in_either_unit():
    text = (
        "name,outer_diameter_mm,outer_diameter_in,inner_diameter_mm,inner_diameter_in\n"
        "a,110,,104,\nb,,2,,1\n"
    )
    assert [one.inner_diameter_mm for one in tubes_of_csv(text, "shelf")] == [104, 25.4]


def test_semicolons_and_decimal_commas_are_read():
    text = "name;outer_diameter_mm;inner_diameter_mm\ndrain;110;103,6\n\n"
    assert tubes_of_csv(text, "shelf")[0].inner_diameter_mm == 103.6


def test_the_list_of_tubes_may_be_such_a_table(tmp_path):
    path = tmp_path / "Shelf.CSV"
    path.write_bytes(b"\xef\xbb\xbf" + tube_csv_text(SHELF[::-1]).encode())  # as spreadsheets do
    assert tubes(path) == SHELF  # narrowest first


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "names no column outer_diameter"),
        ("name,size\na,5\n", "names no column outer_diameter"),
        ("name,outer_diameter_mm\na,5\n", "names no column inner_diameter"),
        ("outer_diameter_mm,inner_diameter_mm\n5,4\n", "names no column name"),
        ("name,name,outer_diameter_mm,inner_diameter_mm\n", "column name stands there twice"),
        (HEAD, "lists no tube"),
        (HEAD + "a,110,104\n,100,94\n", "row 3: it has no name"),
        (HEAD + "a,110,110\n", r"row 2 \(a\): inside it measures 110 mm, outside only 110 mm"),
        (HEAD + "a,104,110\n", r"row 2 \(a\): inside it measures 110 mm, outside only 104 mm"),
        (HEAD + "a,110,\n", "an outer and an inner diameter above 0"),
        (HEAD + "a,0,0\n", "an outer and an inner diameter above 0"),
        (HEAD + "a,-110,-104\n", "outer_diameter_mm is -110, which is below 0"),
        (HEAD + "a,110,104,PVC,-5\n", "length_mm is -5, which is below 0"),
        (HEAD + "a,110,104,PVC,900,-1\n", "price_per_m is -1, which is below 0"),
        (HEAD + "a,110 mm,104\n", "outer_diameter_mm is '110 mm', which is no number"),
        (HEAD + "a,nan,104\n", "which is no number"),
        (HEAD + "a,110,104,PVC,900,1,7\n", "row 2: it has 7 cells, the first row has 6"),
        (HEAD + "a,110,104\nb,110,104\na,90,84\n", r"row 4 \(a\): the name stands in row 2"),
        (HEAD + 'a,"110,104\n', "it is no table"),
    ],
)
def test_what_is_no_list_of_tubes_is_refused_with_its_row(text, says):
    with pytest.raises(UnreadableFileError, match=says):
        tubes_of_csv(text, "shelf.csv")


def test_a_missing_or_foreign_file_is_refused(tmp_path):
    with pytest.raises(UnreadableFileError, match="no tubes can be read"):
        read_tube_csv(tmp_path / "none.csv")
    (tmp_path / "picture.csv").write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(UnreadableFileError, match="no tubes can be read"):
        read_tube_csv(tmp_path / "picture.csv")


def test_a_list_in_toml_may_tell_length_and_price(tmp_path):
    path = tmp_path / "mine.toml"
    row = "[[tube]]\nname='a'\ninner_diameter_mm=90\nwall_mm=3\nmaterial='steel'\nlength_mm=400\n"
    path.write_text(row + "price_per_m=12.5\n", "utf-8")
    (tube,) = tubes(path)
    assert (tube.material, tube.length_mm, tube.price_per_m) == ("steel", 400, 12.5)
