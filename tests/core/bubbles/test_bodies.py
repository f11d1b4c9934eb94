"""Trapped air as bodies: closed forms, pockets within pockets, scans that are no solid."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
import trimesh

from blender_addon.core.bubbles.blocks import blocks
from blender_addon.core.bubbles.bodies import bodies_of
from blender_addon.core.bubbles.pockets import listed, trapped_air
from blender_addon.core.constants.bubbles import MOST_BODIES
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.rows import Grid
from tests import shapes
from tests.core.scans import bunny, standing


def bodied(mesh, pitch_mm=1.0, base=None):
    """Return the pockets, and the general library's reading of their bodies."""
    base = np.zeros(len(mesh.faces), dtype=bool) if base is None else base
    air = trapped_air(mesh, base, pitch_mm)
    found = listed(air)
    return found.pockets, [judged(body) for body in bodies_of(mesh, air, found)]


def judged(body):
    read = trimesh.Trimesh(body.vertices, body.faces, process=True)  # joins equal vertices
    assert read.is_watertight
    assert read.is_winding_consistent
    return read


def cap_mm3(radius, height):
    """Spherical cap, pi h^2 (3 R - h) / 3: Bronstein, Handbook of Mathematics, ch. 3.3."""
    return pi * height**2 * (3.0 * radius - height) / 3.0


def test_a_hole_in_a_block_holds_a_block_of_air():
    # By hand: a box 20 x 10 x 8, open below, in a wall of 5 mm.
    outer, inner = shapes.box((30, 20, 13)), shapes.box((20, 10, 8), (5, 5, 0))
    rim = [[0, 1, 9], [0, 9, 8], [1, 3, 11], [1, 11, 9], [3, 2, 10], [3, 10, 11], [2, 0, 8],
           [2, 8, 10]]  # fmt: skip
    faces = np.vstack([outer.faces[2:], inner.faces[2:, ::-1] + 8, np.array(rim)[:, ::-1]])
    _, (body,) = bodied(Mesh(np.vstack([outer.vertices, inner.vertices]), faces))
    assert body.volume == pytest.approx(1600.0, rel=1e-6)
    assert body.bounds.ravel() == pytest.approx([5, 5, 0, 25, 15, 8], abs=1e-6)


@pytest.mark.parametrize("tilt_deg", [0, 10, 30, 45])
def test_the_body_in_a_tilted_cup_is_a_cylinder_cut_aslant(tilt_deg):
    # pi r^2 (H - r tan t), by integration; the facets of the cup hold 0.02 % less.
    _, (body,) = bodied(shapes.tilted(shapes.cup(40.0, 100.0), tilt_deg), 1.0)
    wanted = pi * 40.0**2 * (100.0 - 40.0 * tan(radians(tilt_deg)))
    assert body.volume == pytest.approx(wanted, rel=0.001)


@pytest.mark.parametrize(("half_deg", "tilt_deg"), [(90, 0), (90, 30), (60, 20)])
def test_the_body_in_a_tilted_dome_is_a_cap(half_deg, tilt_deg):
    _, (body,) = bodied(shapes.tilted(shapes.dome(40.0, half_deg), tilt_deg), 1.0)
    height = 40.0 * (1.0 - cos(radians(half_deg - tilt_deg)))
    assert body.volume == pytest.approx(cap_mm3(40.0, height), rel=0.003)
    assert np.ptp(body.bounds[:, 2]) == pytest.approx(height, abs=0.05)


def test_the_body_in_a_ring_groove_is_half_a_ring():
    # pi^2 R r^2: Pappus' theorem. A ring has one handle: Euler's number is 0.
    ring = shapes.ring_groove(60.0, 15.0)
    _, (body,) = bodied(ring.with_vertices(ring.vertices.round(9)))  # its lip is level to a hair
    assert body.volume == pytest.approx(pi**2 * 60.0 * 15.0**2, rel=0.003)
    assert body.euler_number == 0


def test_shut_off_air_is_a_ball():
    wall = shapes.sphere(20.0, 96)
    shell = shapes.joined(shapes.sphere(30.0, 96), Mesh(wall.vertices, wall.faces[:, ::-1]))
    (pocket,), (body,) = bodied(shell)
    assert pocket.kind == "sealed"
    assert body.volume == pytest.approx(wall_mm3 := 4.0 / 3.0 * pi * 20.0**3, rel=0.005)
    assert body.volume < wall_mm3  # its facets lie inside


def test_a_lump_that_hangs_free_in_the_air_is_left_out_of_it():
    lump = shapes.box((10, 10, 10), (-5, -5, 20))
    (pocket,), (body,) = bodied(shapes.joined(shapes.cup(30.0, 50.0), lump))
    # by hand: the cup less the lump
    assert body.volume == pytest.approx(pi * 30.0**2 * 50.0 - 1000.0, rel=0.001)
    assert pocket.volume_ml * 1000.0 == pytest.approx(body.volume, rel=0.003)


def test_bodies_come_in_the_order_of_the_pockets_and_only_theirs():
    far = shapes.dome(20.0, 90.0)
    far = far.with_vertices(far.vertices + (47.0, 0.0, -5.0))  # its box reaches over the other's
    near = shapes.dome(20.0, 90.0)
    mesh = shapes.joined(
        shapes.cup(20.0, 30.0, wall=1.0), far, near.with_vertices(near.vertices - (47, 0, 0.0))
    )
    pockets, bodies = bodied(mesh)
    assert len(pockets) == len(bodies) == 3
    for pocket, body in zip(pockets, bodies, strict=True):
        assert body.volume == pytest.approx(1000.0 * pocket.volume_ml, rel=0.01)
        assert body.body_count == 1
        assert body.bounds[1, 2] == pytest.approx(pocket.ceiling_at_mm[2], abs=0.05)
        assert body.bounds[0, 2] == pytest.approx(pocket.escape_at_mm[2], abs=1e-6)


def test_a_body_turns_with_the_piece():
    mesh = shapes.tilted(shapes.dome(40.0, 75.0), 17.0)
    (body,), (turned,) = bodied(mesh)[1], bodied(shapes.spun(mesh, 33.0))[1]
    assert turned.volume == pytest.approx(body.volume, rel=0.001)
    angle = radians(33.0)
    turn = np.array([[cos(angle), -sin(angle), 0], [sin(angle), cos(angle), 0], [0, 0, 1]])
    assert turned.center_mass == pytest.approx(turn @ body.center_mass, abs=0.05)


def hollows_with_a_slit():
    """By hand: two shut hollows, 10 x 10 x 10 and 6 x 10 x 10 mm, in a block; in the wall of 0.6 mm
    between them, narrower than a column, is a slit of 0.1 mm.
    """

    def solid(size, low):
        return to_solid(shapes.box(size, low))

    block = solid((30, 20, 20), (0, 0, 0))
    for size, low in (((10, 10, 10), (5, 5, 5)), ((6, 10, 10), (15.6, 5, 5)),
                      ((0.8, 0.1, 10), (14.9, 9.93, 5))):  # fmt: skip
        block -= solid(size, low)
    return to_mesh(block)


def test_hollows_joined_by_a_gap_that_no_column_sees_are_one_pocket_with_one_body():
    (pocket,), (body,) = bodied(hollows_with_a_slit(), 1.0)
    assert pocket.kind == "sealed"
    assert body.volume == pytest.approx(1600.6, rel=0.001)
    assert pocket.volume_ml == pytest.approx(1.6, rel=0.1)


def test_where_surfaces_cross_nobody_follows_such_a_gap_and_each_hollow_gets_its_body():
    crossing = shapes.box((1.0, 1.0, 1.0), (15.0, 9.5, 0.5))  # in the block, under the slit
    pockets, bodies = bodied(shapes.joined(hollows_with_a_slit(), crossing), 1.0)
    assert [pocket.kind for pocket in pockets] == ["sealed", "sealed"]
    assert [body.volume for body in bodies] == pytest.approx([1000.0, 600.0], rel=0.01)
    assert [pocket.volume_ml for pocket in pockets] == pytest.approx([1.0, 0.6], rel=0.1)


def test_a_piece_without_pockets_has_no_bodies():
    assert bodied(shapes.sphere(30.0, 48)) == ((), [])


def test_only_the_largest_pockets_get_a_body():
    cups = []
    for number in range(MOST_BODIES + 2):
        one = shapes.cup(3.0, 2.0 + 0.2 * number, 2.0, 24)
        cups.append(
            one.with_vertices(one.vertices + (12.0 * (number % 6), 12.0 * (number // 6), 0))
        )
    pockets, bodies = bodied(shapes.joined(*cups))
    assert (len(pockets), len(bodies)) == (MOST_BODIES + 2, MOST_BODIES)
    for pocket, body in zip(pockets, bodies, strict=False):
        assert body.volume == pytest.approx(1000.0 * pocket.volume_ml, rel=0.02)


def test_a_surface_that_is_no_solid_still_gives_closed_bodies():
    # A fin of one triangle, both its sides, stands on an edge of the cup: no manifold.
    cup = shapes.tilted(shapes.cup(20.0, 30.0), 12.0)
    a, b, _ = cup.faces[0]
    tip = cup.vertices[[a, b]].mean(axis=0) + (0.0, 0.0, -3.0)
    fin = np.array([[a, b, len(cup.vertices)], [a, len(cup.vertices), b]])
    mesh = Mesh(np.vstack([cup.vertices, tip]), np.vstack([cup.faces, fin[:1], fin[:1]]))
    (pocket,), (body,) = bodied(mesh, 1.0)
    wanted = pi * 20.0**2 * (30.0 - 20.0 * tan(radians(12.0)))
    assert pocket.volume_ml * 1000.0 == pytest.approx(wanted, rel=0.01)
    assert body.volume == pytest.approx(wanted, rel=0.02)


def test_blocks_hold_what_their_columns_hold():
    # By hand: three cells of 2 x 2 mm, 4, 4 and 8 mm high; two of them meet in a corner only.
    grid = Grid(0.0, 0.0, 2.0, 6, 6)
    body = judged(blocks(np.array([7, 14, 20]), np.zeros(3), np.array([4.0, 4.0, 8.0]), grid))
    assert body.volume == pytest.approx(64.0, rel=0.01)
    assert body.bounds.ravel() == pytest.approx([1, 1, 0, 7, 5, 8], abs=0.01)


def test_air_under_a_real_scan_agrees_with_its_columns():
    # Stanford University Computer Graphics Laboratory, Stanford 3D Scanning Repository, 1994.
    scan = standing(bunny())
    pockets, bodies = bodied(scan.mesh, 0.8, scan.base_faces)
    assert len(pockets) == len(bodies) > 0
    assert bodies[0].volume == pytest.approx(1000.0 * pockets[0].volume_ml, rel=0.01)
