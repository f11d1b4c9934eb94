"""Columns that cannot be decided: they are counted, placed, and bounded by what they may hold."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.bubbles.doubt import doubt_of
from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.bubbles.result import NO_DOUBT
from blender_addon.core.bubbles.settings import BubblesSettings
from blender_addon.core.bubbles.stage import bubbles_stage
from blender_addon.core.geometry.columns import Reading
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.watch import Watch
from tests import scans, shapes
from tests.core.scans import standing

DOME_ML = 2.0 / 3.0 * pi * 40.0**3 / 1000.0
"""Half a ball of 40 mm: Bronstein, Handbook of Mathematics, ch. 3.3."""


def torn_dome(x_mm, outer, radius_mm=6.0):
    """Return a dome of 40 mm with a hole in one of its two sheets, over a place of its plan."""
    dome = shapes.dome(40.0, 90.0)
    middles = dome.corners.mean(axis=1)
    far = np.linalg.norm(middles, axis=1) > 42.5
    near = np.linalg.norm(middles[:, :2] - (x_mm, 0.0), axis=1) < radius_mm
    chosen = near & (far == outer) & (middles[:, 2] > 1.0)
    assert chosen.any()
    return scans.without_faces(dome, chosen)


def judged(mesh, pitch_mm=1.0):
    none = np.zeros(len(mesh.faces), dtype=bool)
    air = trapped_air(mesh, none, pitch_mm)
    return air, doubt_of(mesh, none, air)


@pytest.mark.parametrize("outer", [False, True], ids=["roof torn", "top torn"])
def test_air_under_a_torn_roof_stays_and_its_bound_holds_the_closed_form(outer):
    air, doubt = judged(torn_dome(10.0, outer))
    # by hand: a disc of 6 mm, and the columns in it
    assert doubt.columns == pytest.approx(pi * 36.0, rel=0.15)
    assert abs(air.trapped_ml - DOME_ML) < doubt.most_ml
    # at the most those columns hold the whole height of the dome, 45 mm
    assert doubt.most_ml <= 2.0 * doubt.columns * 45.0 / 1000.0
    x, y, z = doubt.at_mm
    assert np.hypot(x - 10.0, y) < 2.0
    assert 30.0 < z < 46.0


def folded_plate(deep_mm):
    """Return a block whose underside is turned inside out over a square, ``deep_mm`` below it.

    A box that faces inward hangs there in the air, as where a surface crosses itself.
    """
    block = shapes.box((40.0, 40.0, 10.0), (0.0, 0.0, 20.0))
    lump = shapes.box((8.0, 8.0, deep_mm), (16.0, 16.0, 5.0))
    return shapes.joined(block, Mesh(lump.vertices, lump.faces[:, ::-1]))


def test_what_is_turned_inside_out_is_counted_and_bounded_by_its_volume():
    air, doubt = judged(folded_plate(4.0))
    assert doubt.columns == 64
    # By hand: 8 x 8 x 4 mm of it. As a solid it traps nothing, as air it holds nothing: 0.256 ml.
    assert air.trapped_ml == pytest.approx(0.0, abs=1e-9)
    assert doubt.most_ml == pytest.approx(0.256, rel=1e-6)
    assert doubt.at_mm == pytest.approx((20.0, 20.0, 5.0), abs=1.0)


def test_a_fold_that_stops_a_way_out_counts_with_all_that_it_shuts_in():
    # A blind hole that looks to +x, and a plug before its mouth that faces inward.
    hole = shapes.tilted(shapes.cup(10.0, 30.0), 90.0)
    plug = shapes.box((4.0, 40.0, 40.0), (0.0, -20.0, -20.0))
    mesh = shapes.joined(hole, Mesh(plug.vertices, plug.faces[:, ::-1]))
    hole_ml = pi * 10.0**2 * 30.0 / 1000.0
    air, doubt = judged(mesh, 0.5)
    assert air.trapped_ml == pytest.approx(hole_ml, rel=0.01)  # a plug shuts it
    empty = trapped_air(mesh, np.zeros(len(mesh.faces), dtype=bool), 0.5, Reading.EMPTY)
    assert empty.trapped_ml < 0.01 * hole_ml  # no plug: it drains
    assert hole_ml <= doubt.most_ml < hole_ml + 4.0 * 40.0 * 40.0 / 1000.0 + 0.1


def test_a_closed_surface_leaves_no_doubt():
    assert judged(shapes.dome(40.0, 90.0))[1] == NO_DOUBT


def test_the_stage_tells_how_many_where_and_how_much():
    scan = standing(torn_dome(10.0, outer=False))
    found = bubbles_stage(scan, BubblesSettings(pitch_mm=1.0, lean_limit_deg=0.0), Watch())
    (notice,) = [one for one in found.warnings if one.code == "undecided_columns"]
    assert f"{found.doubt.columns} columns" in notice.text
    assert notice.at_mm == found.doubt.at_mm
    assert found.bound_ml >= found.doubt.most_ml > 0.0
