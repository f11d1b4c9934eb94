"""What of a shadow faces open ground, and the widest discs in its bays."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.geometry.plan import shadow_edges
from blender_addon.core.geometry.rim import outer_rim
from tests import shapes
from tests.core.case.plates import keyhole, plate, star


def test_rim_of_a_ring_leaves_its_hole_out():
    rim = outer_rim(shadow_edges(shapes.torus(30, 8)), 0.5, 5.0, 8)
    assert np.linalg.norm(rim.edges, axis=2) == pytest.approx(38, abs=1e-9)
    assert len(rim.bays) == 0


def test_rim_of_a_star_is_its_whole_outline():
    outline = star(1)
    rim = outer_rim(shadow_edges(plate(outline)), 0.5, 1e9, 8)
    assert {tuple(p) for p in rim.edges[:, 0].round(6)} == {tuple(p) for p in outline.round(6)}


@pytest.mark.parametrize("cell_mm", [0.5, 1.0, 2.0])
def test_bay_behind_a_slot_is_as_wide_as_its_circle(cell_mm):
    edges = shadow_edges(plate(keyhole()))
    rim = outer_rim(edges, cell_mm, 10.0, 8)
    # a circle of 96 sides lets through less than its corners say, by 1 - cos(pi / 96)
    assert rim.bay_mm.max() == pytest.approx(20, rel=6e-4)
    assert rim.bay_mm.max() <= 20
    assert rim.bays[rim.bay_mm.argmax()] == pytest.approx((30, 0), abs=0.02)


def test_bay_behind_a_crack_narrower_than_a_cell_is_closed():
    rim = outer_rim(shadow_edges(plate(keyhole(off=15.0, slot=0.2))), 2.0, 10.0, 8)
    assert len(rim.bays) == 0
    assert np.linalg.norm(rim.edges, axis=2).max(axis=1) == pytest.approx(60, abs=1e-6)


def test_convex_plan_has_no_bay():
    assert len(outer_rim(shadow_edges(shapes.box([80, 40, 10])), 1.0, 1.0, 8).bays) == 0
