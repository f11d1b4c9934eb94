"""Whose tubes a case is chosen from."""

from __future__ import annotations

import pytest

from blender_addon.core.case.settings import CaseSettings
from blender_addon.core.case.stock import stock_of
from blender_addon.core.case.stock_lists import BOTH, COMMON, OWN
from blender_addon.core.catalog.tubes import tubes

MINE = "name,outer_diameter_mm,inner_diameter_mm\nacrylic tube 100/94,100,93.5\nold drum,400,396\n"


@pytest.fixture
def mine(tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text(MINE, "utf-8")
    return str(path)


def test_own_tubes_are_all_there_is_to_choose_from(mine):
    stock = stock_of(CaseSettings(stock_file=mine, stock=OWN))
    assert [one.name for one in stock] == ["acrylic tube 100/94", "old drum"]


def test_without_an_own_list_the_common_sizes_are_taken():
    assert stock_of(CaseSettings(stock=OWN)) == tubes()


def test_an_own_tube_goes_before_a_common_one_of_its_name(mine):
    stock = stock_of(CaseSettings(stock_file=mine, stock=BOTH))
    assert len(stock) == len(tubes()) + 1
    assert [one.inner_diameter_mm for one in stock if one.name == "acrylic tube 100/94"] == [93.5]
    assert [one.inner_diameter_mm for one in stock] == sorted(o.inner_diameter_mm for o in stock)


def test_common_sizes_leave_the_own_list_alone(mine):
    assert stock_of(CaseSettings(stock_file=mine, stock=COMMON)) == tubes()
