"""Clinging, narrow and brushed faces against shapes with known areas."""

from __future__ import annotations

from math import cos, pi, radians

import numpy as np
import pytest

from blender_addon.core.bubbles.clinging import clinging_faces
from blender_addon.core.bubbles.flags import trapped_faces
from blender_addon.core.bubbles.narrow import narrow_faces
from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.bubbles.surface import grown, without_islands
from blender_addon.core.geometry.solid import area_cm2
from tests import shapes


@pytest.mark.parametrize("angle_deg", [15.0, 20.0, 30.0])
def test_a_ball_clings_over_its_lower_cap(angle_deg):
    # Area of a cap, 2 pi R^2 (1 - cos a): 535.24, 947.31 and 2104.5 mm2 for R 50.
    ball = shapes.sphere(50.0, 512)
    found = area_cm2(ball, clinging_faces(ball, angle_deg)) * 100.0
    assert found == pytest.approx(2.0 * pi * 2500.0 * (1.0 - cos(radians(angle_deg))), rel=0.05)


def rough_plate(slope_deg):
    """Return a plate of 60 mm with 0.5 mm triangles, sloping, as rough as a scan."""
    grid = np.linspace(-30.0, 30.0, 121)
    x, y = (one.ravel() for one in np.meshgrid(grid, grid, indexing="ij"))
    rough = np.random.default_rng(5).normal(0.0, 0.06, len(x))
    number = np.arange(121 * 121).reshape(121, 121)
    a, b, c, d = (
        number[i : i + 120, j : j + 120].ravel() for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))
    )
    faces = np.vstack([np.column_stack([a, c, b]), np.column_stack([a, d, c])])  # looks down
    return shapes.tilted(shapes.Mesh(np.column_stack([x, y, rough]), faces), slope_deg)


@pytest.mark.parametrize(("slope_deg", "clings"), [(5.0, True), (25.0, False)])
def test_noise_does_not_speckle_the_clinging_places(slope_deg, clings):
    plate = rough_plate(slope_deg)
    inner = np.abs(plate.corners.mean(axis=1)[:, :2]).max(axis=1) < 25.0
    raw = clinging_faces(plate, 15.0)[inner].mean()
    calm = clinging_faces(plate, 15.0, 2.0)[inner].mean()
    assert 0.02 < raw < 0.98  # the noise alone speckles it
    assert calm > 0.99 if clings else calm < 0.01


def slotted(width):
    """Return a block with a slot, open above and at both ends."""
    half = width / 2.0
    outline = np.array([
        (-20, 0), (20, 0), (20, 30), (half, 30), (half, 10), (-half, 10), (-half, 30), (-20, 30)
    ], float)  # fmt: skip
    count = len(outline)
    front = np.column_stack([outline[:, 0], np.full(count, -15.0), outline[:, 1]])
    back = front + (0.0, 30.0, 0.0)
    ring = np.arange(count)
    ahead = np.roll(ring, -1)
    cap = np.array([(0, 1, 5), (0, 5, 6), (0, 6, 7), (1, 2, 3), (1, 3, 4), (1, 4, 5)])
    sides = np.vstack([
        np.column_stack([ring, ring + count, ahead]),
        np.column_stack([ahead, ring + count, ahead + count]),
    ])  # fmt: skip
    faces = np.vstack([cap, cap[:, ::-1] + count, sides])
    mesh = shapes.Mesh(np.vstack([front, back]), faces)
    for _ in range(4):
        mesh = shapes.refined(mesh)
    return mesh


def test_the_slot_is_a_closed_solid():
    mesh = slotted(4.0)
    assert not mesh.edges.net.any()
    assert area_cm2(mesh) == pytest.approx(
        (2 * (40 * 30 - 4 * 20) + 30 * (40 + 2 * 30 + 36 + 2 * 20 + 4)) / 100.0
    )


@pytest.mark.parametrize(("width", "narrow"), [(4.0, True), (9.0, False)])
def test_a_ball_of_six_enters_a_slot_of_nine_but_not_of_four(width, narrow):
    mesh = slotted(width)
    flagged = narrow_faces(mesh, 6.0)
    x, y, z = mesh.corners.mean(axis=1).T
    inside = (np.abs(x) < width / 2.0 + 1e-6) & (z > 10.5) & (z < 25.0) & (np.abs(y) < 10.0)
    assert flagged[inside].mean() > 0.95 if narrow else not flagged[inside].any()
    assert not flagged[np.abs(x) > width / 2.0 + 1e-6].any()


def test_the_flagged_faces_of_a_bowl_are_its_inside():
    bowl = shapes.tilted(shapes.dome(40.0, 90.0), 20.0)
    air = trapped_air(bowl, np.zeros(len(bowl.faces), dtype=bool), 0.5)
    depth, _ = trapped_faces(bowl, air)
    middles = bowl.corners.mean(axis=1)
    lip = 40.0 * np.sin(radians(20.0))
    inside = np.linalg.norm(middles, axis=1) < 41.0
    clear = np.abs(middles[:, 2] - lip) > 1.0
    np.testing.assert_array_equal((depth > 0)[clear], (inside & (middles[:, 2] > lip))[clear])
    deep = depth > 1.0
    np.testing.assert_allclose(depth[deep], middles[deep, 2] - lip, atol=0.3)


def test_islands_below_the_least_area_are_dropped():
    block = shapes.refined(shapes.refined(shapes.box((40.0, 40.0, 10.0))))
    middles = block.corners.mean(axis=1)
    below = middles[:, 2] == 0.0
    lone = np.flatnonzero(middles[:, 2] == 10.0)[:1]
    chosen = below.copy()
    chosen[lone] = True
    np.testing.assert_array_equal(without_islands(block, chosen, 100.0), below)
    np.testing.assert_array_equal(without_islands(block, chosen, 10.0), chosen)


def test_growing_reaches_as_far_as_the_margin_along_the_surface():
    block = shapes.box((64.0, 64.0, 64.0))
    for _ in range(5):
        block = shapes.refined(block)
    middles = block.corners.mean(axis=1)
    top = middles[:, 2] == 64.0
    found = grown(block, top, 8.0)
    side = middles[:, 2] < 64.0
    depth = 64.0 - middles[side, 2]
    assert found[top].all()
    assert found[side][depth < 5.0].all()  # a triangle counts when all of it lies within
    assert not found[side][depth > 8.0].any()
    np.testing.assert_array_equal(grown(block, top, 0.0), top)
