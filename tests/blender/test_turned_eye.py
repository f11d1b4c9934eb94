"""Eyes that go round with the piece, the brush map and the cut."""

from __future__ import annotations

import math

import bpy
import numpy as np
import pytest
from mathutils import Vector

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.place import bounds
from blender_addon.bridge.turned_eye import turn_between, turned_eye
from tests import shapes

from .conftest import add, own


def _thing(role, at_mm, size_mm=20.0):
    thing = add(role, shapes.box((size_mm, size_mm, size_mm)))
    thing[names.OWN] = role
    thing.location = Vector(at_mm) / 1000.0
    return thing


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize(
    ("at_mm", "eye"),
    [  # by hand: what lies at the left of an eye before it
        ((-100, 0, 0), (0.7, -1.0, 0.35)),
        ((0, -100, 40), (1.0, 0.7, 0.35)),
        ((100, 0, 0), (-0.7, 1.0, 0.35)),
        ((0, 300, 0), (-1.0, -0.7, 0.35)),
    ],
)
def test_an_eye_turns_about_the_upright_as_far_as_the_thing_it_goes_round_with(at_mm, eye):
    things = [_thing(names.MASTER_ROLE, (0, 0, 0)), _thing("other", at_mm)]
    bpy.context.view_layer.update()
    found = turned_eye(things, "other", (-1.0, 0.0), (0.7, -1.0, 0.35))
    assert tuple(found) == pytest.approx(eye, abs=1e-6)


@pytest.mark.usefixtures("scene")
def test_an_eye_stays_where_there_is_nothing_to_go_round_with():
    master, round_it = _thing(names.MASTER_ROLE, (0, 0, 0)), _thing("other", (0.5, 0, 30))
    bpy.context.view_layer.update()
    for things in ([master], [round_it], [master, round_it]):
        found = turned_eye(things, "other", (-1.0, 0.0), (0.7, -1.0, 0.35))
        assert tuple(found) == pytest.approx((0.7, -1.0, 0.35))


def test_a_piece_that_stands_on_another_side_was_turned_by_nothing():
    tipped = np.eye(4)
    tipped[:3, :3] = [[1, 0, 0], [0, 0, -1], [0, 1, 0]]
    assert turn_between(np.eye(4), tipped) == 0.0
    for angle in (-2.5, 0.0, 0.3):
        turned, also = np.eye(4), np.eye(4)
        for matrix, by in ((turned, angle + 0.4), (also, 0.4)):
            matrix[:2, :2] = [[math.cos(by), -math.sin(by)], [math.sin(by), math.cos(by)]]
        assert turn_between(also, turned) == pytest.approx(angle, abs=1e-12)


def _view():
    areas = [one for one in bpy.context.window.screen.areas if one.type == "VIEW_3D"]
    return areas[0].spaces.active.region_3d


def _seen(scene):
    """Return where a direction of the scan, and its middle, lie before the eye."""
    layout, view = kept.layout(scene.riseline.results.token), _view()
    of_job = Vector((layout.case.placement[:3, :3] @ np.array([1.0, 0.0, 0.0])).tolist())
    master = own(scene)[names.MASTER_ROLE]
    inward = view.view_rotation.inverted()
    middle = bounds([master])[0]
    return inward @ (master.matrix_world.to_3x3() @ of_job), inward @ (middle - view.view_location)


def test_a_piece_is_seen_from_the_same_side_whatever_case_is_taken(scene):
    add("piece", shapes.box((80, 40, 50)))
    scene.riseline.bubbles.pitch_mm = 4.0
    scene.riseline.case.kind = "printed round"
    bpy.ops.riseline.lay_out()
    bpy.context.view_layer.update()
    (side, at), turned = _seen(scene), []
    for kind in ("printed contour", "printed round"):
        last = kept.layout(scene.riseline.results.token).case.placement
        scene.riseline.case.kind = kind
        bpy.ops.riseline.lay_out()
        bpy.context.view_layer.update()
        now = kept.layout(scene.riseline.results.token).case.placement
        turned.append(abs(turn_between(last, now)))
        again, at_again = _seen(scene)
        assert (again - side).length < 1e-4
        assert (at_again - at).length < 0.02
    assert max(turned) > 0.1, "no case turned the piece: nothing was tried"
