"""The check that every part passes: seen to fail on each planted fault."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.errors import OpenPartError
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.parts.check import as_filed, check_solid, checked_part
from tests import shapes


def test_a_box_passes_and_is_stood_on_the_bed():
    part = checked_part("box", "guide", shapes.box((3, 4, 5), (100, 200, 300)), np.eye(4))
    assert part.mesh.bounds[0].tolist() == [-1.5, -2, 0]
    assert part.size_mm == (3, 4, 5)
    assert part.volume_ml == pytest.approx(0.06)
    back = part.mesh.moved(part.to_assembly)
    assert back.bounds[0].tolist() == [100, 200, 300]
    assert not part.to_assembly.flags.writeable


def test_a_part_printed_upside_down_finds_its_way_back():
    wedge = Mesh(
        [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10]],
        [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]],
    )
    part = checked_part("wedge", "guide", wedge, np.diag([1.0, -1.0, -1.0, 1.0]))
    assert part.mesh.bounds[0][2] == 0
    assert part.volume_ml == pytest.approx(1.0)
    back = part.mesh.moved(part.to_assembly).corners
    assert np.sort(back.reshape(-1, 9), axis=0) == pytest.approx(
        np.sort(wedge.corners.reshape(-1, 9), axis=0), abs=1e-5
    )


def test_a_missing_triangle_is_found():
    box = shapes.box((3, 4, 5))
    with pytest.raises(OpenPartError, match="edges without exactly two faces"):
        check_solid("box", Mesh(box.vertices, box.faces[1:]))


def test_a_turned_triangle_is_found():
    box = shapes.box((3, 4, 5))
    faces = box.faces.copy()
    faces[0] = faces[0, ::-1]
    with pytest.raises(OpenPartError, match="edges without exactly two faces"):
        check_solid("box", Mesh(box.vertices, faces))


def test_an_edge_of_four_faces_is_found():
    one, other = shapes.box((1, 1, 1)), shapes.box((1, 1, 1), (1, 1, 0))
    with pytest.raises(OpenPartError, match="edges without exactly two faces"):
        check_solid("boxes", as_filed(shapes.joined(one, other)))


def test_two_pieces_are_found():
    one, other = shapes.box((1, 1, 1)), shapes.box((1, 1, 1), (5, 0, 0))
    with pytest.raises(OpenPartError, match="fell into 2 pieces"):
        check_solid("boxes", shapes.joined(one, other))


def test_inside_out_is_found():
    box = shapes.box((3, 4, 5))
    with pytest.raises(OpenPartError, match="inside out"):
        check_solid("box", Mesh(box.vertices, box.faces[:, ::-1]))


def test_nothing_is_found():
    with pytest.raises(OpenPartError, match="is empty"):
        check_solid("nothing", Mesh(np.zeros((3, 3)), np.zeros((0, 3), int)))


def test_a_triangle_without_area_is_found():
    # a closed wedge with a needle folded into one edge
    corners = [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10], [15, 0, 0]]
    faces = [[0, 2, 1], [0, 4, 3], [4, 1, 3], [0, 3, 2], [1, 2, 3], [0, 1, 4]]
    with pytest.raises(OpenPartError, match="triangles without area"):
        check_solid("wedge", Mesh(corners, faces))


def test_corners_that_float32_cannot_tell_apart_become_one():
    box = shapes.box((3, 4, 5))
    loose = Mesh(box.corners.reshape(-1, 3), np.arange(36).reshape(12, 3))
    nudge = np.random.default_rng(1).uniform(-1e-6, 1e-6, loose.vertices.shape)
    filed = as_filed(loose.with_vertices(loose.vertices + nudge))
    assert len(filed.vertices) == 8
    check_solid("box", filed)
    assert (filed.vertices == filed.vertices.astype(np.float32)).all()
