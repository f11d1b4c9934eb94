"""From where the places to brush are seen, on pieces where a look tells which way that is."""

from __future__ import annotations

import bpy
import numpy as np
import pytest
from mathutils import Matrix, Vector

from blender_addon.bridge import attributes, names
from blender_addon.bridge.brush_eye import BELOW, brush_eye
from blender_addon.bridge.place import bounds
from blender_addon.core.geometry.mesh import Mesh
from tests import shapes

from .conftest import add, own

OUTWARD = {"+x": (1, 0, 0), "-x": (-1, 0, 0), "+y": (0, 1, 0), "-y": (0, -1, 0)}
SLAB, KNOB, WALL = (100.0, 100.0, 10.0), (20.0, 20.0, 20.0), (4.0, 60.0, 40.0)


def _moved(mesh, shift):
    return Mesh(mesh.vertices + np.array(shift, dtype=np.float64), mesh.faces)


def _joined(meshes):
    counts = np.cumsum([0, *(len(one.vertices) for one in meshes)])
    faces = [one.faces + first for one, first in zip(meshes, counts, strict=False)]
    return Mesh(np.vstack([one.vertices for one in meshes]), np.vstack(faces))


def _centred(size):
    box = shapes.box(size)
    low, high = box.bounds
    x, y, _ = (low + high) / 2.0
    return _moved(box, (-x, -y, -low[2]))


def _piece(*walls):
    """Return a slab with a knob on it, and a wall of its own before some sides of the knob."""
    parts = [_centred(SLAB), _moved(_centred(KNOB), (0, 0, SLAB[2]))]
    for side in walls:
        x, y, _ = OUTWARD[side]
        wide, long, high = WALL
        size = (wide, long, high) if x else (long, wide, high)
        parts.append(_moved(_centred(size), (20.0 * x, 20.0 * y, SLAB[2])))
    thing = add("piece", _joined(parts))
    bpy.context.view_layer.update()
    return thing


def _brush(thing, wanted):
    """Say which faces are to be brushed, by their middle in mm and their normal."""
    faces = [wanted(np.array(one.center) * 1000.0, np.array(one.normal))
             for one in thing.data.polygons]  # fmt: skip
    assert any(faces)
    attributes.write(thing.data, names.PREBRUSH, "BOOLEAN", np.array(faces))


def _of_knob(at_mm, normal):
    return abs(at_mm[:2]).max() < 10.1 and at_mm[2] > 10.1 and abs(normal[2]) < 0.5


@pytest.mark.usefixtures("scene")
def test_an_underside_is_looked_at_from_below():
    thing = _piece()
    _brush(thing, lambda at_mm, normal: normal[2] < -0.9 and at_mm[2] < 0.1)
    assert brush_eye(thing) == BELOW


@pytest.mark.usefixtures("scene")
def test_a_piece_with_nothing_to_brush_is_looked_at_from_below():
    thing = _piece()
    attributes.write(thing.data, names.PREBRUSH, "BOOLEAN", np.zeros(len(thing.data.polygons)))
    assert brush_eye(thing) == BELOW


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize("side", OUTWARD)
def test_a_place_that_the_piece_hides_from_below_is_looked_at_from_its_own_side(side):
    thing = _piece()
    _brush(thing, lambda at_mm, normal: _of_knob(at_mm, normal) and normal @ OUTWARD[side] > 0.9)
    eye = brush_eye(thing)
    assert np.dot(eye, OUTWARD[side]) > 0.9
    assert eye.length == pytest.approx(1.0, abs=1e-6)


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize("side", OUTWARD)
def test_the_eye_is_where_no_wall_stands_before_the_place(side):
    thing = _piece(*(one for one in OUTWARD if one != side))
    _brush(thing, _of_knob)
    assert np.dot(brush_eye(thing), OUTWARD[side]) > 0.7


@pytest.mark.usefixtures("scene")
def test_of_two_sides_alike_the_eye_takes_the_front():
    thing = _piece("+x", "-x")
    _brush(thing, _of_knob)
    assert np.dot(brush_eye(thing), OUTWARD["-y"]) > 0.7


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize(("high", "from_below"), [(45.0, True), (90.0, False)])
def test_an_eye_that_sees_less_than_twice_as_much_does_not_take_the_place_of_the_one_below(
    high, from_below
):
    """From 45 degrees below, of bottom and side of 30 mm: (30 + high) / 30 * cos 45."""
    shares = [(30.0 + high) / 30.0 * np.cos(np.pi / 4.0), high / 30.0]
    assert 1.5 < max(shares) < 2.0 or min(shares) > 2.5
    thing = add("post", shapes.box((30.0, 30.0, high)))
    bpy.context.view_layer.update()
    _brush(thing, lambda _at_mm, normal: normal[2] < -0.9 or normal[0] > 0.9)
    assert (brush_eye(thing) == BELOW) == from_below


def _eye():
    areas = [one for one in bpy.context.window.screen.areas if one.type == "VIEW_3D"]
    return areas[0].spaces.active.region_3d.view_rotation @ Vector((0.0, 0.0, 1.0))


def test_the_tour_shows_what_is_to_be_brushed_and_never_the_map_before_the_case(scene, scan):
    assert scan.select_get()
    bpy.ops.riseline.lay_out()
    bpy.ops.riseline.next_stop()
    first = _eye()
    bpy.ops.riseline.look_from_below()
    assert first.dot(_eye()) == pytest.approx(1.0, abs=1e-5)  # the brim is seen from below
    hung, master = own(scene)[names.MAP_ROLE], own(scene)[names.MASTER_ROLE]
    for aside in OUTWARD.values():
        apart = bounds([master])[0] + 0.4 * Vector(aside) - bounds([hung])[0]
        hung.matrix_world = Matrix.Translation(apart) @ hung.matrix_world
        bpy.context.view_layer.update()
        scene.riseline.tour = 1
        for _ in ("case", "rubber"):
            bpy.ops.riseline.next_stop()
            assert _eye().dot(Vector(aside)) < 0.1
