"""Trapped air against closed forms: what stays above the lip of a recess, upright and tilted."""

from __future__ import annotations

from math import acos, asin, atan, cos, degrees, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from blender_addon.core.bubbles.pockets import listed, trapped_air
from tests import shapes


def trapped_mm3(mesh, pitch_mm=0.5):
    none = np.zeros(len(mesh.faces), dtype=bool)
    return trapped_air(mesh, none, pitch_mm).trapped_ml * 1000.0


def cap_mm3(radius, height):
    """Spherical cap, pi h^2 (3 R - h) / 3: Bronstein, Handbook of Mathematics, ch. 3.3."""
    return pi * height**2 * (3.0 * radius - height) / 3.0


def cup_mm3(radius, depth, tilt_deg):
    """What a tilted cup keeps above its upper lip.

    While the lip's level stays below the closed end: a cylinder cut aslant, pi r^2 (H - r tan t).
    Steeper: a cylindrical hoof. Both by integration; hoof as in Bronstein, ch. 3.3.
    """
    slope = tan(radians(tilt_deg))
    if slope <= depth / (2.0 * radius):
        return pi * radius**2 * (depth - radius * slope)
    c = radius - depth / slope
    root = radius**2 - c**2
    segment = radius**2 * acos(c / radius) - c * sqrt(root)
    return slope * (2.0 / 3.0 * root**1.5 - c * segment)


@pytest.mark.parametrize("tilt_deg", [0, 10, 20, 30, 45, 51, 55, 60, 70, 75])
def test_a_tilted_cup_keeps_what_stands_above_its_upper_lip(tilt_deg):
    mesh = shapes.tilted(shapes.cup(40.0, 100.0), tilt_deg)
    assert trapped_mm3(mesh) == pytest.approx(cup_mm3(40.0, 100.0, tilt_deg), rel=0.003)


def test_a_hoof_keeps_two_thirds_of_r_squared_h():
    # The lip's level runs through the middle of the closed end: Archimedes' hoof, 2/3 r^2 H.
    tilt_deg = degrees(atan(20.0 / 30.0))
    mesh = shapes.tilted(shapes.cup(30.0, 20.0), tilt_deg)
    assert trapped_mm3(mesh) == pytest.approx(12000.0, rel=0.003)


@pytest.mark.parametrize("tilt_deg", [0, 10, 20, 30, 45, 60])
def test_a_tilted_hemisphere_keeps_a_cap(tilt_deg):
    mesh = shapes.tilted(shapes.dome(40.0, 90.0), tilt_deg)
    height = 40.0 * (1.0 - sin(radians(tilt_deg)))
    assert trapped_mm3(mesh) == pytest.approx(cap_mm3(40.0, height), rel=0.003)


@pytest.mark.parametrize("tilt_deg", [0, 10, 20, 30])
def test_a_tilted_dome_keeps_a_cap(tilt_deg):
    mesh = shapes.tilted(shapes.dome(40.0, 60.0), tilt_deg)
    height = 40.0 * (1.0 - cos(radians(60.0 - tilt_deg)))
    assert trapped_mm3(mesh) == pytest.approx(cap_mm3(40.0, height), rel=0.003)


def test_a_dent_keeps_its_cap():
    mesh = shapes.dome(50.0, degrees(acos(0.6)))  # depth 20, lip radius 40
    assert trapped_mm3(mesh) == pytest.approx(cap_mm3(50.0, 20.0), rel=0.003)


@pytest.mark.parametrize("tilt_deg", [0, 10, 20, 30, 45])
def test_a_tilted_cone_keeps_an_elliptic_cone(tilt_deg):
    # pi a b d / 3 over the ellipse in which the lip's level cuts the cone; d its height above.
    radius, depth, turn = 40.0, 60.0, radians(tilt_deg)
    above = depth * cos(turn) - radius * sin(turn)
    z_left = 2.0 * radius * sin(turn) / (cos(turn) + radius / depth * sin(turn))
    x_left = -radius * (1.0 - z_left / depth)
    a = 0.5 * sqrt((radius - x_left) ** 2 + z_left**2)
    b = sqrt((radius * (1.0 - z_left / (2.0 * depth))) ** 2 - ((radius + x_left) / 2.0) ** 2)
    mesh = shapes.tilted(shapes.cone_recess(radius, depth), tilt_deg)
    assert trapped_mm3(mesh) == pytest.approx(pi * a * b * above / 3.0, rel=0.003)


def test_a_half_round_ring_groove_keeps_half_a_torus():
    # pi^2 R r^2: Pappus' theorem.
    mesh = shapes.ring_groove(60.0, 15.0)
    assert trapped_mm3(mesh) == pytest.approx(pi**2 * 60.0 * 15.0**2, rel=0.003)


def test_a_ring_tunnel_with_a_slot_below_keeps_itself_and_the_slot():
    # Pappus: 2 pi R times the cut's area, which is that of a circle of 15 mm less what lies below
    # the mouth of a slot of 2 mm, and of the slot from there down to 18 mm below the middle.
    mouth = sqrt(15.0**2 - 1.0)
    angle = np.linspace(np.pi + np.arctan2(mouth, 1.0), -np.arctan2(mouth, 1.0), 256)
    tunnel = np.column_stack([60.0 + 15.0 * np.cos(angle), 15.0 * np.sin(angle)])
    profile = [(0, -18), (59, -18), *tunnel, (61, -18), (90, -18), (90, 20), (0, 20)]
    cut_mm2 = pi * 225.0 - (225.0 * asin(1.0 / 15.0) - mouth) + 2.0 * (18.0 - mouth)
    found_mm3 = trapped_mm3(shapes.turned(profile, 256))
    assert found_mm3 == pytest.approx(2.0 * pi * 60.0 * cut_mm2, rel=0.003)


@pytest.mark.parametrize(
    "mesh",
    [
        shapes.sphere(30.0, 96),
        shapes.tilted(shapes.turned([(10, 0), (20, 0), (20, 40), (10, 40)], 96), 90.0),
        shapes.torus(30.0, 8.0, 96),
        shapes.tilted(shapes.torus(30.0, 8.0, 96), 90.0),
        shapes.tilted(shapes.cone_recess(40.0, 60.0), 60.0),  # past the flank: all of it drains
        shapes.tilted(shapes.dome(40.0, 60.0), 65.0),
    ],
    ids=["ball", "lying pipe", "lying ring", "standing ring", "steep cone", "steep dome"],
)
def test_what_drains_keeps_nothing(mesh):
    assert trapped_mm3(mesh) < 0.5


def test_two_recesses_make_two_pockets_largest_first():
    far = shapes.dome(20.0, 90.0)
    far = far.with_vertices(far.vertices + (120.0, 0.0, 30.0))
    mesh = shapes.joined(shapes.dome(40.0, 90.0), far)
    air = trapped_air(mesh, np.zeros(len(mesh.faces), dtype=bool), 0.5)
    large, small = listed(air).pockets
    assert large.volume_ml == pytest.approx(cap_mm3(40.0, 40.0) / 1000.0, rel=0.003)
    assert small.volume_ml == pytest.approx(cap_mm3(20.0, 20.0) / 1000.0, rel=0.005)
    assert large.depth_mm == pytest.approx(40.0, abs=0.02)
    assert large.area_cm2 == pytest.approx(pi * 16.0, rel=0.01)
    assert large.ceiling_at_mm == pytest.approx((0.0, 0.0, 40.0), abs=0.5)
    assert small.escape_at_mm[2] == pytest.approx(30.0, abs=0.02)
    away = np.hypot(small.escape_at_mm[0] - 120.0, small.escape_at_mm[1])
    assert 19.4 < away < 25.6  # anywhere on the flat rim is the saddle
    assert {large.kind, small.kind} == {"underside"}


def test_a_shut_off_hollow_is_called_sealed():
    # A ball-shaped hollow in a ball: its inner wall faces inward.
    wall = shapes.sphere(20.0, 96)
    hollow = wall.with_vertices(wall.vertices)
    shell = shapes.joined(
        shapes.sphere(30.0, 96), type(hollow)(hollow.vertices, hollow.faces[:, ::-1])
    )
    air = trapped_air(shell, np.zeros(len(shell.faces), dtype=bool), 0.5)
    (pocket,) = listed(air).pockets
    assert pocket.kind == "sealed"
    assert pocket.volume_ml == pytest.approx(4.0 / 3.0 * pi * 8.0, rel=0.005)


def test_a_thin_wall_between_two_columns_does_not_leak():
    # A box open below whose walls are a tenth of a column thick.
    inner, wall = 20.0, 0.05
    outer = inner + wall
    profile = [(inner, 0), (outer, 0), (outer, 30 + wall), (0, 30 + wall), (0, 30), (inner, 30)]
    mesh = shapes.turned(profile, 256)
    assert trapped_mm3(mesh) == pytest.approx(pi * inner**2 * 30.0, rel=0.005)


def test_the_base_on_its_riser_holds_no_air():
    mesh = shapes.box((40.0, 30.0, 20.0))
    down = np.zeros(len(mesh.faces), dtype=bool)
    down[:2] = True
    air = trapped_air(mesh, down, 0.5)
    assert len(air.spaces.cell) == 1
    assert air.trapped_ml == 0.0


def test_a_hollow_that_the_board_shuts_keeps_its_air():
    # A cup standing on its rim: with the rim on the riser no rubber comes in, no air goes out.
    mesh = shapes.cup(30.0, 20.0)
    foot = mesh.corners[:, :, 2].max(axis=1) == 0.0
    air = trapped_air(mesh, foot, 0.5)
    assert air.trapped_ml == pytest.approx(pi * 9.0 * 2.0, rel=0.005)
    assert air.under_foot_ml == air.trapped_ml
    (pocket,) = listed(air).pockets
    assert pocket.kind == "under foot"
    assert pocket.depth_mm == pytest.approx(20.0)


@pytest.fixture(scope="module")
def leaning():
    """Return a dome, leaning, so that nothing lies along the grid."""
    return shapes.tilted(shapes.dome(40.0, 75.0), 17.0)


@pytest.mark.parametrize(
    "change",
    [
        lambda mesh: shapes.spun(mesh, 33.0),
        lambda mesh: mesh.with_vertices(mesh.vertices + (1234.5, -777.7, 99.9)),
        lambda mesh: type(mesh)(mesh.vertices, mesh.faces[::-1]),
        lambda mesh: type(mesh)(mesh.vertices, mesh.faces[:, [1, 2, 0]]),
        shapes.refined,
    ],
    ids=["turned about z", "moved", "triangles in reverse order", "corners in turn", "refined"],
)
def test_trapped_air_does_not_depend_on_how_the_mesh_is_given(leaning, change):
    assert trapped_mm3(change(leaning)) == pytest.approx(trapped_mm3(leaning), rel=0.002)


def test_trapped_air_grows_with_the_cube_of_the_scale(leaning):
    double = leaning.with_vertices(2.0 * leaning.vertices)
    assert trapped_mm3(double, 1.0) == pytest.approx(8.0 * trapped_mm3(leaning, 0.5), rel=1e-6)


@pytest.mark.parametrize(("pitch_mm", "error"), [(4.0, 0.01), (2.0, 0.003), (1.0, 0.001)])
def test_a_wider_pitch_finds_the_same_air(leaning, pitch_mm, error):
    assert trapped_mm3(leaning, pitch_mm) == pytest.approx(trapped_mm3(leaning), rel=error)


def test_two_hollows_that_are_shut_off_are_two_pockets():
    def hollow_ball(x):
        wall = shapes.sphere(6.0, 48, (x, 0.0, 0.0))
        hollow = shapes.Mesh(wall.vertices, wall.faces[:, ::-1])
        return shapes.joined(shapes.sphere(9.0, 48, (x, 0.0, 0.0)), hollow)

    mesh = shapes.joined(hollow_ball(0.0), hollow_ball(30.0))
    air = trapped_air(mesh, np.zeros(len(mesh.faces), dtype=bool), 0.5)
    one, other = listed(air).pockets
    assert one.kind == other.kind == "sealed"
    assert one.volume_ml == pytest.approx(4.0 / 3.0 * pi * 0.216, rel=0.02)
