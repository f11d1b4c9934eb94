"""Sculptures put together of pieces: what reaches into each other counts once, all the way down."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import area_cm2 as surface_cm2
from blender_addon.core.geometry.solid import enclosed_volume_ml, open_edges
from blender_addon.core.pipeline import lay_out
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.scan.united import united
from blender_addon.core.settings import Settings
from blender_addon.core.watch import Watch
from tests import shapes


def two_balls(apart_mm, radius_mm=20.0):
    return shapes.joined(
        shapes.sphere(radius_mm, 160), shapes.sphere(radius_mm, 160, (apart_mm, 0.0, 0.0))
    )


def lens_ml(apart_mm, radius_mm=20.0):
    """Two caps of height h = R - d/2, pi h^2 (3 R - h) / 3 each: Bronstein, Handbook, ch. 3.3."""
    height = radius_mm - apart_mm / 2.0
    return 2.0 * pi * height**2 * (3.0 * radius_mm - height) / 3.0 / 1000.0


@pytest.mark.parametrize("apart_mm", [1.0, 10.0, 25.0, 39.0])
def test_two_balls_that_reach_into_each_other_hold_the_lens_between_them_once(apart_mm):
    both = two_balls(apart_mm)
    found = united(both)
    ball_ml = 4.0 / 3.0 * pi * 20.0**3 / 1000.0
    assert found.joined == 2
    assert enclosed_volume_ml(found.mesh) == pytest.approx(
        2.0 * ball_ml - lens_ml(apart_mm), rel=0.002
    )
    assert not len(open_edges(found.mesh))


def test_every_triangle_lies_on_the_one_that_it_comes_from():
    both = two_balls(17.0)
    found = united(both)
    normals = both.vectors_mm2[found.kept]
    normals = normals / np.linalg.norm(normals, axis=1)[:, None]
    off = ((found.mesh.corners - both.corners[found.kept][:, :1]) * normals[:, None]).sum(axis=2)
    assert np.abs(off).max() < 1e-9
    assert ((found.mesh.vectors_mm2 * normals).sum(axis=1) >= -1e-9).all()


def test_pieces_that_keep_apart_stay_as_they_are():
    both = two_balls(41.0)
    assert united(both).mesh is both
    near = two_balls(39.0)  # boxes that meet, round bodies turned so that they do not
    turned = Mesh(near.vertices @ np.linalg.qr(np.ones((3, 3)) + np.eye(3))[0], near.faces)
    assert united(turned).joined == 2


@pytest.mark.parametrize(
    ("place", "joined", "area_cm2"),
    [((5.0, 4.0, 30.0), 2, 132.0 - 2 * 35.0 * 26.0 / 100.0), ((40.0, 30.0, 30.0), 0, 132.0)],
    ids=["face on face", "corner to corner"],
)
def test_pieces_that_lie_face_on_face_are_one_but_not_those_that_touch_in_a_point(
    place, joined, area_cm2
):
    # By hand: each box has 66 cm2; where they lie on each other, none of it is outside.
    found = united(
        shapes.joined(shapes.box((40.0, 30.0, 30.0)), shapes.box((40.0, 30.0, 30.0), place))
    )
    assert found.joined == joined
    assert surface_cm2(found.mesh) == pytest.approx(area_cm2)
    assert enclosed_volume_ml(found.mesh) == pytest.approx(72.0)


def test_boxes_that_meet_do_not_make_pieces_reach_into_each_other():
    ball = shapes.sphere(20.0, 96)
    beside = shapes.sphere(20.0, 96, (30.0, 30.0, 0.0))  # 42.4 mm from middle to middle
    both = shapes.joined(ball, beside)
    assert united(both).mesh is both


def test_the_others_stay_when_two_are_joined():
    far = shapes.box((10.0, 10.0, 10.0), (100.0, 0.0, 0.0))
    found = united(shapes.joined(far, two_balls(10.0)))
    assert found.joined == 2
    ball_ml = 4.0 / 3.0 * pi * 20.0**3 / 1000.0
    assert enclosed_volume_ml(found.mesh) == pytest.approx(
        2.0 * ball_ml - lens_ml(10.0) + 1.0, rel=0.002
    )
    assert set(range(12)) <= set(found.kept.tolist())


def test_a_piece_that_is_not_closed_leaves_all_as_they_are():
    cube = shapes.box((10.0, 10.0, 10.0))
    torn = Mesh(cube.vertices, cube.faces[1:])
    both = shapes.joined(torn, shapes.box((4.0, 4.0, 4.0), (8.0, 2.0, 2.0)))
    assert united(both).mesh is both


def test_a_head_stuck_on_a_body_is_one_piece_and_rubber_and_copy_fill_the_case():
    body = shapes.turned([(0, 0), (25, 0), (25, 40), (0, 40)], 96)
    head = shapes.sphere(18.0, 96, (0.0, 0.0, 48.0))
    scan = scan_stage(shapes.joined(body, head), ScanSettings(up="+z"), Watch())
    assert scan.pieces == 1
    assert "2 pieces that reach into each other joined" in scan.changes
    assert scan.source_faces.max() < scan.triangles
    assert to_solid(scan.mesh).volume() / 1000.0 == pytest.approx(scan.volume_ml)
    # By hand: the ball less the cap of 10 mm that sticks in the body.
    cap_ml = pi * 10.0**2 * (3.0 * 18.0 - 10.0) / 3.0 / 1000.0
    whole_ml = pi * 25.0**2 * 40.0 / 1000.0 + 4.0 / 3.0 * pi * 18.0**3 / 1000.0 - cap_ml
    assert scan.volume_ml == pytest.approx(whole_ml, rel=0.003)
    layout = lay_out(shapes.joined(body, head), Settings(scan=ScanSettings(up="+z")))
    case, rubber = layout.case, layout.rubber
    inside_ml = pi / 4.0 * case.inner_diameter_mm**2 * rubber.level_z_mm / 1000.0
    riser_ml = pi * 25.0**2 * layout.scan.riser_mm / 1000.0
    assert rubber.volume_ml + whole_ml + riser_ml == pytest.approx(inside_ml, rel=1e-3)
    assert not [one for one in layout.resin.warnings if one.code == "overlap"]
