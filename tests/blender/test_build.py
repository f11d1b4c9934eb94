"""Meshes that are handed to Blender with their edges are what Blender would have made of them."""

from __future__ import annotations

import bpy
import numpy as np
import pytest

from blender_addon.bridge.build import new_mesh
from blender_addon.core.desk.drawn import DrawnEdges, drawn_edges
from blender_addon.core.geometry.mesh import Mesh
from tests import scans, shapes

from .conftest import mushroom


def _edges_of_corners(data):
    """Return the ends of the edge that each corner names, the lower first."""
    ends = np.zeros(2 * len(data.edges), dtype=np.int32)
    data.edges.foreach_get("vertices", ends)
    named = np.zeros(len(data.loops), dtype=np.int32)
    data.loops.foreach_get("edge_index", named)
    return np.sort(ends.reshape(-1, 2)[named], axis=1)


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize(
    "mesh",
    [mushroom(), scans.bunny(), shapes.joined(mushroom(), shapes.box((1, 2, 3)))],
    ids=["closed", "open scan", "two pieces"],
)
def test_given_edges_are_those_that_blender_finds_and_it_has_nothing_to_mend(mesh):
    own, given = new_mesh("own", mesh, 1.0), new_mesh("given", mesh, 1.0, edges=drawn_edges(mesh))
    assert len(given.edges) == len(own.edges)
    assert np.array_equal(_edges_of_corners(given), _edges_of_corners(own))
    assert not given.validate()


@pytest.mark.usefixtures("scene")
def test_blender_would_have_mended_edges_that_are_wrong():
    mesh = mushroom()
    right = drawn_edges(mesh)
    wrong = DrawnEdges(right.ends, np.roll(right.of_face, 1, axis=1))
    assert new_mesh("wrong", mesh, 1.0, edges=wrong).validate()


def test_a_file_with_a_face_that_names_a_corner_twice_is_read_as_before(scene, tmp_path):
    corners = shapes.box((40, 30, 50))
    faces = np.vstack([corners.faces, [[0, 0, 1]]])
    file = tmp_path / "block.obj"
    lines = [f"v {x} {y} {z}" for x, y, z in corners.vertices]
    lines += [f"f {a} {b} {c}" for a, b, c in (faces + 1).tolist()]
    file.write_text("\n".join(lines))
    assert bpy.ops.riseline.read_scan(filepath=str(file)) == {"FINISHED"}
    data = scene.objects["block"].data
    assert len(data.polygons) in {len(faces), len(corners.faces)}
    assert drawn_edges(Mesh(corners.vertices, faces)) is None
