"""The fill on paper: the curve inside the shell beside that of the bare mold, and both in grams."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from blender_addon.core.job import job_of
from blender_addon.core.job_sheet_resin import resin_blocks
from blender_addon.core.job_sheet_words import Said
from blender_addon.core.sheet.blocks import Figure, Table
from blender_addon.core.sheet.drawing import Line, Text
from blender_addon.core.sheet.fill_plot import HIGH_MM, LEFT_MM, LOW_MM, WIDE_MM, fill_plot
from tests.core.layouts import layout

BARE = np.array([[0.0, 0.0], [50.0, 400.0], [100.0, 1000.0]])
INSIDE = np.array([[0.0, 0.0], [50.0, 300.0], [90.0, 700.0]])


def lines_of(figure, kind):
    return [one for one in figure.drawing.shapes if isinstance(one, Line) and one.kind == kind]


def test_both_curves_are_drawn_on_one_pair_of_axes():
    figure = fill_plot(INSIDE, BARE)
    inside, _legend = sorted(lines_of(figure, "cut"), key=lambda one: -len(one.points_mm))
    bare, _ = sorted(lines_of(figure, "fold"), key=lambda one: -len(one.points_mm))
    by_mm, by_ml = WIDE_MM / 100.0, HIGH_MM / 1000.0  # both axes end in round numbers here
    for curve, table in ((inside, INSIDE), (bare, BARE)):
        assert curve.points_mm == pytest.approx(
            table * [by_mm, by_ml] + [LEFT_MM, LOW_MM], rel=1e-12
        )
    words = {one.words for one in figure.drawing.shapes if isinstance(one, Text)}
    assert {"inside the shell", "bare mold", "mm below the rim"} <= words


def test_in_inches_only_the_numbers_along_the_axis_change():
    words = {one.words for one in fill_plot(INSIDE, BARE, inches=True).drawing.shapes
             if isinstance(one, Text)}  # fmt: skip
    assert {"in below the rim", "4", "1000"} <= words


# by hand: the layout's tables run straight to 60 mm and 53.08 ml, inside the shell to 57 mm and
# 35.03 ml; 1.05 g/ml
ROWS = {
    False: ("60.0 mm", "35 ml, 36.8 g", "53 ml, 55.7 g"),
    True: ("1.00 in", "16 ml, 16.4 g", "22 ml, 23.6 g"),
}


@pytest.mark.parametrize("inches", [False, True])
def test_the_table_tells_grams_inside_the_shell_and_in_the_bare_mold(inches):
    blocks = resin_blocks(job_of(layout(), "bird.stl"), Said(inches=inches))
    (table,) = [one for one in blocks if isinstance(one, Table) and "Below the rim" in one.head]
    assert table.head == ("Below the rim", "Inside the shell", "In the bare mold")
    assert ROWS[inches] in table.rows
    assert any(isinstance(one, Figure) for one in blocks)


def test_a_solid_copy_has_one_column():
    made = layout()
    resin = dataclasses.replace(made.resin, cavity_table=np.zeros((1, 2)), fills=())
    job = job_of(dataclasses.replace(made, resin=resin), "bird.stl")
    (table,) = [one for one in resin_blocks(job, Said())
                if isinstance(one, Table) and "Below the rim" in one.head]  # fmt: skip
    assert table.head == ("Below the rim", "In the bare mold")
