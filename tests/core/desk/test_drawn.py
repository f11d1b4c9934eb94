"""The edges that go to Blender: of each corner the one to the next, whatever the mesh is like."""

from __future__ import annotations

import pickle

import numpy as np
import trimesh

from blender_addon.core.desk.drawn import drawn_edges
from blender_addon.core.geometry.mesh import Mesh
from tests import scans, shapes


def test_edges_of_a_scan_are_those_that_another_library_counts():
    mesh = scans.bunny()
    found = drawn_edges(mesh)
    judge = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert sorted(map(tuple, found.ends.tolist())) == sorted(
        map(tuple, judge.edges_unique.tolist())
    )
    walked = np.stack([mesh.faces, np.roll(mesh.faces, -1, axis=1)], axis=2)
    assert np.array_equal(np.sort(found.ends[found.of_face], axis=2), np.sort(walked, axis=2))
    assert (found.ends.dtype, found.of_face.dtype) == (np.int32, np.int32)


def test_a_face_that_names_a_vertex_twice_leaves_the_counting_to_blender():
    assert drawn_edges(Mesh(np.eye(3), [[0, 1, 2], [1, 1, 2]])) is None
    assert drawn_edges(Mesh(np.eye(3), np.zeros((0, 3), dtype=int))).ends.shape == (0, 2)


def test_a_sent_mesh_is_two_locked_arrays_and_counts_anew_when_asked():
    mesh = shapes.box((1, 2, 3))
    edges, vectors = mesh.edges, mesh.vectors_mm2
    large, bare = pickle.dumps(mesh), pickle.dumps(Mesh(mesh.vertices, mesh.faces))
    assert len(large) == len(bare)
    again = pickle.loads(large)  # noqa: S301 - what was dumped a line before
    assert np.array_equal(again.vertices, mesh.vertices)
    assert not again.vertices.flags.writeable
    assert not again.faces.flags.writeable
    assert np.array_equal(again.edges.ends, edges.ends)
    assert np.array_equal(again.vectors_mm2, vectors)
