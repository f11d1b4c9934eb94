"""Leaning the case."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.bubbles.flags import trapped_faces
from blender_addon.core.bubbles.lean import lean_map, leaned
from blender_addon.core.bubbles.pockets import listed, trapped_air
from blender_addon.core.bubbles.result import Lean
from blender_addon.core.bubbles.settings import BubblesSettings
from blender_addon.core.errors import CancelledError
from blender_addon.core.watch import Watch
from tests import shapes


def sideways_cup():
    """Return a block with a round blind hole whose mouth looks to +x and a little down."""
    return shapes.tilted(shapes.cup(10.0, 30.0), 80.0)


def map_of(mesh, limit_deg, watch=None):
    none = np.zeros(len(mesh.faces), dtype=bool)
    air = trapped_air(mesh, none, 0.5)
    _, gate = trapped_faces(mesh, air)
    pocket = np.full(len(gate), -1)
    for number, own in enumerate(listed(air).gates):
        pocket[gate == own] = number
    settings = BubblesSettings(pitch_mm=0.5, lean_limit_deg=limit_deg)
    upright = Lean(0.0, 0.0, air.trapped_ml)
    return air.trapped_ml, lean_map(mesh, none, pocket, upright, settings, watch or Watch())


def lean_of(mesh, limit_deg):
    upright_ml, found = map_of(mesh, limit_deg)
    return upright_ml, found.best


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


def test_the_map_holds_every_lean_the_least_air_first():
    _, found = map_of(sideways_cup(), 35.0)
    assert {lean.degrees for lean in found.leans} == {12.0, 24.0, 35.0}
    trapped = [lean.trapped_ml for lean in found.leans]
    assert trapped == sorted(trapped)
    assert trapped[-1] > trapped[0]


def test_each_pocket_is_freed_by_the_lean_that_lifts_its_own_mouth():
    # Two blind holes that look opposite ways, each 10 degrees below level.
    one = sideways_cup()
    other = shapes.spun(one, 180.0)
    other = other.with_vertices(other.vertices + (-80.0, 0.0, 0.0))
    _, found = map_of(shapes.joined(one, other), 24.0)
    assert len(found.freed_by) == 2
    directions = sorted(np.cos(np.radians(lean.towards_deg)) for lean in found.freed_by)
    assert directions[0] < -0.4
    assert directions[1] > 0.4
    assert {lean.degrees for lean in found.freed_by} == {12.0}


def test_a_deep_cup_is_freed_by_no_lean():
    _, found = map_of(shapes.cup(10.0, 40.0), 35.0)
    assert found.freed_by == (None,)


def test_it_stops_when_asked():
    with pytest.raises(CancelledError):
        map_of(sideways_cup(), 35.0, Watch(cancelled=lambda: True))


def test_a_pocket_whose_faces_are_all_lost_on_the_coarser_mesh_is_asked_of_none():
    cup = sideways_cup()
    air = trapped_air(cup, np.zeros(len(cup.faces), dtype=bool), 0.5)
    depth, gate = trapped_faces(cup, air, np.zeros(0, dtype=np.int64))
    assert (len(depth), len(gate)) == (0, 0)


def test_nobody_leans_for_a_drop_of_air():
    mesh = shapes.tilted(shapes.cup(1.0, 6.0), 75.0)
    upright_ml, lean = lean_of(mesh, 35.0)
    assert 0.0 < upright_ml < 0.05
    assert lean.degrees == 0.0
