"""One reading answers: closed forms of bore, cone, ball and ring, level and leaning, and a scan."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

from blender_addon.core.geometry.manifold import prism, to_solid
from blender_addon.core.resin.copy import copy_of
from blender_addon.core.resin.reading import (
    cavity_table,
    down_of,
    leaning_of,
    still_to_fill_ml,
)
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.amounts import cavity_of, resin_of
from tests.core.scans import bunny, standing

PI = np.pi
REFERENCE = Path(__file__).parent.parent.parent / "reference"
AMOUNTS = json.loads((REFERENCE / "amounts.json").read_text(encoding="utf-8"))
FILLS, TUBE = AMOUNTS["fills"], AMOUNTS["tube_formula"]
INCH = 25.4


@pytest.fixture(scope="module")
def bore():
    return standing(shapes.cylinder(40, 150, 512), 0.0)


@pytest.fixture(scope="module")
def cone():
    return standing(shapes.turned([(0, 0), (40, 0), (0, 120)], 512), 0.0)


@pytest.fixture(scope="module")
def rabbit():
    return scan_stage(bunny(150.0), ScanSettings(up="+z"), Watch())


def test_an_inch_short_in_a_bore_in_grams(bore):
    found = resin_of(bore, shell_mm=4.0)
    ml, g = FILLS["bore_inch_short_ml_g"]
    bare = still_to_fill_ml(found.fill_table, INCH)
    assert bare == pytest.approx(ml, rel=2e-3)
    assert bare * 1.05 == pytest.approx(g, rel=2e-3)
    ml, g = FILLS["bore_inch_short_in_shell_ml_g"]
    inside = still_to_fill_ml(found.cavity_table, INCH)
    assert inside == pytest.approx(ml, rel=2e-3)
    assert inside * 1.05 == pytest.approx(g, rel=2e-3)
    ml, g = FILLS["bore_shell_ml_g"]
    assert (found.shell_ml, found.shell_g) == pytest.approx((ml, g), rel=2e-3)


def test_a_cone_inside_its_shell_fills_by_the_cube(cone):
    found = resin_of(cone, shell_mm=4.0)
    table = found.cavity_table
    whole = table[-1, 1]
    for height, ml in FILLS["cone_height_ml"]:
        filled = whole - still_to_fill_ml(table, 120 - height)
        assert filled == pytest.approx(ml, rel=2e-3, abs=0.25), height
    assert still_to_fill_ml(table, INCH) == pytest.approx(FILLS["cone_last_inch_ml"], rel=2e-3)
    # 150 g leave the level 0.27 mm short of the rim
    short = np.interp(whole - 150 / 1.05, table[:, 1], table[:, 0])
    assert 120 - short == pytest.approx(FILLS["cone_150_g_reaches_mm"], abs=0.05)


def test_a_hemisphere_fills_by_the_cap():
    # of radius 50, its flat side is the rim: above a depth d lie pi (R^2 d - d^3 / 3), closed form
    angle = np.linspace(0, PI / 2, 100)
    dome = shapes.turned(
        [(0, 0), *np.column_stack([50 * np.cos(angle), 50 * np.sin(angle)])[:-1], (0, 50)], 256
    )
    table = resin_of(standing(dome, 0.0)).fill_table
    exact = PI * (50**2 * table[:, 0] - table[:, 0] ** 3 / 3) / 1e3
    assert table[1:, 1] == pytest.approx(exact[1:], rel=2e-3)


def test_a_ring_fills_by_the_integral_of_its_section():
    # ring of 60 by 15 flat on the board: at the height z its section is 4 pi R w(z), closed form
    table = resin_of(standing(shapes.torus(60, 15, 192), 0.0, seam_mm=0.0)).fill_table
    for depth, ml in table[1:]:
        reach = min(depth, 30.0) - 15
        exact, _ = quad(lambda z: 4 * PI * 60 * np.sqrt(max(15**2 - z * z, 0.0)), -15, reach)
        assert ml == pytest.approx(exact / 1e3, rel=2e-3)


def test_the_tube_formula_gives_the_shells():
    ball = shapes.sphere(50, 192)
    for mesh, shell, key in (
        (shapes.torus(60, 15, 128), 3.0, "torus_60_15_by_3_ml"),
        (ball, 4.0, "sphere_50_by_4_ml"),
        (shapes.cylinder(40, 100, 192), 4.0, "cylinder_40_100_by_4_ml"),
        (shapes.box((100, 100, 100)), 5.0, "cube_100_by_5_ml"),
    ):
        # on the board, a seam of nothing: rubber reaches all round but where the base is flat
        scan = afloat(mesh)
        found = resin_of(scan, shell_mm=shell)
        assert found.shell_ml == pytest.approx(TUBE[key], rel=4e-3), key
        assert found.shell_g == pytest.approx(1.05 * found.shell_ml)


def afloat(mesh):
    scan = standing(mesh, 0.0)
    none = np.zeros(len(mesh.faces), dtype=bool)
    return dataclasses.replace(scan, base_faces=none, riser_outline=())


def test_a_leaning_bore_loses_a_wedge_and_fills_by_its_slanted_depth(bore):
    # lean 20 degrees: the wedge over the lowest rim is pi r^3 tan 20, and below it a plumb depth d
    # takes d / cos 20 along the bore; closed form
    lean = np.radians(20.0)
    found = leaning_of(copy_of(bore).mesh, bore, cavity_of(bore, 4.0), 20.0, 77.0)
    assert found.wedge_ml == pytest.approx(PI * 40**3 * np.tan(lean) / 1e3, rel=2e-3)
    for short in (10.0, INCH, 60.0):
        exact = PI * 40**2 * short / np.cos(lean) / 1e3
        assert still_to_fill_ml(found.fill_table, short) == pytest.approx(exact, rel=2e-3)
        inside = PI * 36**2 * short / np.cos(lean) / 1e3
        assert still_to_fill_ml(found.cavity_table, short) == pytest.approx(inside, rel=5e-3)
    whole = found.cavity_table[-1, 1] + found.cavity_wedge_ml
    assert whole == pytest.approx(cavity_of(bore, 4.0).total_ml, rel=1e-6)


def test_the_lowest_side_of_the_rim_lies_where_it_leans_to():
    # of a slab 100 by 20 that leans along its length the wedge is 50 tan(lean) high at the middle
    slab = standing(shapes.box((100, 20, 80)), 0.0)
    along, across = (
        leaning_of(copy_of(slab).mesh, slab, cavity_of(slab, 3.0), 10.0, towards).wedge_ml
        for towards in (0.0, 90.0)
    )
    tan = np.tan(np.radians(10.0))
    assert along == pytest.approx(100 * 20 * 50 * tan / 1e3, rel=1e-6)
    assert across == pytest.approx(100 * 20 * 10 * tan / 1e3, rel=1e-6)


def test_a_lean_of_nothing_is_the_level_table(rabbit):
    level = resin_of(rabbit)
    cavity = cavity_of(rabbit, 3.0)
    found = leaning_of(copy_of(rabbit).mesh, rabbit, cavity, 1e-7, 123.0)
    assert found.fill_table == pytest.approx(level.fill_table, rel=1e-5, abs=1e-4)
    depth = found.cavity_table[:, 0]
    inside = [still_to_fill_ml(level.cavity_table, one) for one in depth]
    assert found.cavity_table[:, 1] == pytest.approx(inside, rel=0.01, abs=0.6)


def test_a_leaning_scan_agrees_with_a_cut_by_another_library(rabbit):
    found = leaning_of(copy_of(rabbit).mesh, rabbit, cavity_of(rabbit, 3.0), 15.0, 200.0)
    down = down_of(15.0, 200.0)
    spill = max(float((one @ down[:2]).max()) for one in rabbit.riser_outline)
    pieces = to_solid(rabbit.mesh), prism(rabbit.riser_outline, 0.0, rabbit.riser_mm)
    for short in (20.0, 70.0):
        above = sum(
            piece.split_by_plane(-down, -(spill + short))[0].volume()
            - piece.split_by_plane(-down, -spill)[0].volume()
            for piece in pieces
        )
        assert still_to_fill_ml(found.fill_table, short) == pytest.approx(above / 1e3, rel=2e-3)


def test_the_tables_of_a_scan_rise_and_end_in_the_whole(rabbit):
    found = resin_of(rabbit)
    for table, whole in (
        (found.fill_table, found.copy_ml),
        (found.cavity_table, found.copy_ml - found.shell_ml),
    ):
        assert table[0].tolist() == [0.0, 0.0]
        assert (np.diff(table, axis=0) >= 0.0).all()
        assert table[-1, 1] == pytest.approx(whole, rel=1e-3)
    assert found.shell_ml + sum(one.ml for one in found.fills) == pytest.approx(found.copy_ml)


def test_a_shell_that_fills_everything_leaves_an_empty_table():
    found = resin_of(standing(shapes.box((10, 40, 60))), shell_mm=6.0)
    assert still_to_fill_ml(found.cavity_table, INCH) == 0.0
    cavity = cavity_of(standing(shapes.box((10, 40, 60))), 6.0)
    assert cavity_table(cavity)[1] == 0.0
