"""Columns: volumes by integration, on grids that fall where they like."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.geometry.columns import solids_of
from blender_addon.core.geometry.rows import grid_over, row_cuts
from blender_addon.core.geometry.solid import enclosed_volume_ml
from tests import shapes


def solids(mesh, pitch_mm):
    grid = grid_over(mesh.vertices, pitch_mm)
    return solids_of(row_cuts(mesh.vertices, mesh.faces, grid), grid)


def test_a_box_on_the_grid_is_counted_exactly():
    found = solids(shapes.box((8.0, 4.0, 5.0)), 1.0)
    assert len(found.cell) == 32
    assert found.volume_mm3 == pytest.approx(160.0)
    assert set(found.low_mm) == {0.0}


@pytest.mark.parametrize(
    ("mesh", "exact_mm3"),
    [
        (shapes.sphere(20.0), 4.0 / 3.0 * pi * 20.0**3),
        (shapes.torus(30.0, 8.0), 2.0 * pi**2 * 30.0 * 64.0),
        (shapes.tilted(shapes.cylinder(15.0, 40.0), 37.0), pi * 225.0 * 40.0),
    ],
    ids=["ball", "ring", "leaning bar"],
)
def test_columns_hold_the_closed_form_volume(mesh, exact_mm3):
    assert solids(mesh, 0.5).volume_mm3 == pytest.approx(exact_mm3, rel=0.002)


def test_pieces_that_overlap_are_counted_once():
    two = shapes.joined(shapes.box((10.0, 10.0, 10.0)), shapes.box((10.0, 10.0, 10.0), (5.0, 0, 0)))
    assert solids(two, 0.5).volume_mm3 == pytest.approx(1500.0)
    assert enclosed_volume_ml(two) == pytest.approx(2.0)


@pytest.mark.parametrize("seed", range(20))
def test_a_closed_mesh_leaks_through_no_column(seed):
    rng = np.random.default_rng(seed)
    ball = shapes.sphere(20.0, 48)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    found = solids(ball.with_vertices(ball.vertices @ turn.T), float(rng.uniform(0.2, 3.0)))
    assert not len(found.unclosed)


def test_vertices_and_edges_right_on_the_columns_do_not_leak():
    block = shapes.refined(shapes.refined(shapes.box((8.0, 8.0, 8.0))))
    for pitch in (0.25, 0.5, 1.0, 2.0):
        found = solids(block, pitch)
        assert not len(found.unclosed)
        assert found.volume_mm3 == pytest.approx(512.0)


def test_columns_through_an_opening_are_counted_as_undecided():
    block = shapes.box((8.0, 8.0, 8.0))
    open_block = type(block)(block.vertices, block.faces[2:])  # no bottom
    assert len(solids(open_block, 1.0).unclosed) == 64
