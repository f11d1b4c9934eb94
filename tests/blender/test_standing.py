"""A piece stands on the faces or points that were picked."""

from __future__ import annotations

import itertools

import bpy
import numpy as np
import pytest
from mathutils import Vector

from tests import shapes

from .conftest import add, told_size


def _lying(scene):
    box = add("box", shapes.box((30, 40, 60)))
    box.rotation_euler = (0.4, 0.9, 0.2)
    scene.view_layers[0].update()
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.mesh.select_all(action="DESELECT")
    bpy.ops.object.mode_set(mode="OBJECT")
    return box


def _pick(box, faces=(), points=()):
    bpy.context.tool_settings.mesh_select_mode = (not faces, False, bool(faces))
    for number in faces:
        box.data.polygons[number].select = True
    for number in points:
        box.data.vertices[number].select = True
    bpy.ops.object.mode_set(mode="EDIT")


def _no_face(box, corners):
    """Return three of some corners that bound no face: with those of one, it is selected too."""
    faces = {frozenset(one.vertices) for one in box.data.polygons}
    picked = itertools.combinations(corners, 3)
    return next(three for three in picked if frozenset(three) not in faces)


def test_it_stands_on_the_points_that_were_picked_be_they_its_lowest_or_its_highest(scene):
    for own_z in (0.0, 0.06):
        box = _lying(scene)
        corners = [one.index for one in box.data.vertices if abs(one.co.z - own_z) < 1e-6]
        _pick(box, points=_no_face(box, corners))
        assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
        bpy.ops.object.mode_set(mode="OBJECT")
        heights = [(box.matrix_world @ one.co).z for one in box.data.vertices]
        below = sorted(range(len(heights)), key=heights.__getitem__)[:4]
        assert set(below) == set(corners)


@pytest.mark.usefixtures("scene")
def test_a_piece_that_is_stretched_stands_on_the_face_that_was_picked_all_the_same():
    thing = add("leaning", shapes.tilted(shapes.box((30, 40, 60)), 30.0))
    thing.scale = (1.0, 1.0, 3.0)
    bpy.context.view_layer.update()
    for kind in (thing.data.polygons, thing.data.vertices, thing.data.edges):
        kind.foreach_set("select", [False] * len(kind))
    face = next(one for one in thing.data.polygons if 0.3 < -one.normal.z < 0.95)
    corners = list(face.vertices)
    _pick(thing, faces=(face.index,))
    assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
    bpy.ops.object.mode_set(mode="OBJECT")
    bpy.context.view_layer.update()
    heights = [(thing.matrix_world @ thing.data.vertices[one].co).z for one in corners]
    assert max(heights) - min(heights) < 1e-5


@pytest.mark.parametrize("by", ["faces", "points"])
def test_the_piece_stands_on_what_was_picked(scene, by):
    box = _lying(scene)
    faces = [one.index for one in box.data.polygons if one.normal.z < -0.9]  # its own underside
    low = _no_face(box, [one.index for one in box.data.vertices if one.co.z < 1e-6])
    assert faces
    _pick(box, faces=faces if by == "faces" else (), points=low if by == "points" else ())
    assert bpy.ops.riseline.stand_on_faces() == {"FINISHED"}
    bpy.ops.object.mode_set(mode="OBJECT")
    bpy.context.view_layer.update()
    assert (box.matrix_world.to_3x3() @ Vector((0, 0, 1))).z == pytest.approx(1.0, abs=1e-5)
    assert scene.riseline.scan.up == "+z"
    assert told_size(scene, box).size_mm[2] == pytest.approx(60.0, rel=1e-4)


@pytest.mark.parametrize("points", [(), (0, 1)])
def test_too_little_picked_is_refused_and_turns_nothing(scene, points):
    box = _lying(scene)
    before = np.array(box.matrix_world)
    _pick(box, points=points)
    assert bpy.ops.riseline.stand_on_faces() == {"CANCELLED"}
    assert bpy.context.mode == "EDIT_MESH"
    assert np.array_equal(np.array(box.matrix_world), before)
    bpy.ops.object.mode_set(mode="OBJECT")
