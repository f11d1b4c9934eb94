"""Leaning the case."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.bubbles.lean import best_lean, leaned
from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.errors import CancelledError
from blender_addon.core.watch import Watch
from tests import shapes


def sideways_cup():
    """Return a block with a round blind hole whose mouth looks to +x and a little down."""
    return shapes.tilted(shapes.cup(10.0, 30.0), 80.0)


def lean_of(mesh, limit_deg):
    none = np.zeros(len(mesh.faces), dtype=bool)
    upright_ml = trapped_air(mesh, none, 0.5).trapped_ml
    return upright_ml, best_lean(mesh, none, limit_deg, 0.5, upright_ml, Watch())


def test_leaning_turns_the_top_towards_the_direction():
    pole = shapes.box((2.0, 2.0, 100.0), (-1.0, -1.0, 0.0))
    top = leaned(pole, 30.0, 90.0).vertices[-4:].mean(axis=0)
    assert top == pytest.approx([0.0, 50.0, 100.0 * np.cos(np.radians(30.0))], abs=1e-9)


def test_a_blind_hole_drains_when_its_mouth_is_lifted():
    # The mouth looks to +x, 10 degrees below level: leaning 12 degrees towards -x lifts it over.
    upright_ml, lean = lean_of(sideways_cup(), 35.0)
    assert upright_ml > 0.5
    assert lean.trapped_ml < 0.01
    assert np.cos(np.radians(lean.towards_deg - 180.0)) > 0.5
    assert 10.0 < lean.degrees <= 35.0


def test_a_limit_of_zero_stays_upright():
    upright_ml, lean = lean_of(sideways_cup(), 0.0)
    assert (lean.degrees, lean.trapped_ml) == (0.0, upright_ml)


def test_what_no_lean_frees_stays_upright():
    upright_ml, lean = lean_of(shapes.cup(5.0, 60.0), 12.0)
    assert lean.degrees == 0.0
    assert lean.trapped_ml == upright_ml


def test_it_stops_when_asked():
    cup = sideways_cup()
    with pytest.raises(CancelledError):
        best_lean(
            cup, np.zeros(len(cup.faces), bool), 35.0, 0.5, 1.0, Watch(cancelled=lambda: True)
        )


def test_nobody_leans_for_a_drop_of_air():
    mesh = shapes.tilted(shapes.cup(1.0, 6.0), 75.0)
    upright_ml, lean = lean_of(mesh, 35.0)
    assert 0.0 < upright_ml < 0.05
    assert lean.degrees == 0.0
