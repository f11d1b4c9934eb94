"""How triangles hang together: welding, pieces, handles, sides."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pytest

from blender_addon.core.geometry.connect import (
    agreeing,
    clustered,
    handles,
    piece_of_faces,
    welded,
    without_flaps,
)
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import enclosed_volume_ml, open_edges
from tests import scans, shapes


def test_triangles_that_share_no_vertex_are_welded_where_they_touch():
    box = shapes.box((1.0, 2.0, 3.0))
    soup = Mesh(box.corners.reshape(-1, 3), np.arange(36).reshape(-1, 3))
    mesh, kept = welded(soup)
    assert len(mesh.vertices) == 8
    assert len(kept) == 12
    assert not len(open_edges(mesh))
    assert enclosed_volume_ml(mesh) == pytest.approx(0.006)


def test_empty_and_repeated_triangles_are_left_out():
    box = shapes.box((1.0, 1.0, 1.0))
    faces = np.vstack([box.faces, [[0, 0, 1]], box.faces[3:4], box.faces[3:4, [1, 2, 0]]])
    mesh, kept = welded(Mesh(box.vertices, faces))
    assert kept.tolist() == list(range(12))
    assert len(mesh.faces) == 12


def uses(mesh):
    return set(mesh.edges.uses.tolist())


@pytest.mark.parametrize("copies", [(1, 1), (2, 1), (1, 2), (3, 2)])
def test_triangles_that_face_opposite_ways_in_one_place_cancel_each_other(copies):
    # a face of a closed box stands there p times as it should and q times turned over: p - q = 1
    # is the box itself; at p - q = 0 the face's three edges lie open, as those of any hole do
    box, (ahead, back) = shapes.box((1.0, 1.0, 1.0)), copies
    face = box.faces[:1]
    faces = np.vstack([box.faces[1:], *[face] * ahead, *[face[:, ::-1]] * back])
    mesh, kept = welded(Mesh(box.vertices, faces))
    net = ahead - back
    assert len(kept) == 11 + abs(net)
    assert uses(mesh) == ({2} if net == 1 else {1, 2} if net == 0 else {2})
    if net == 1:
        assert enclosed_volume_ml(mesh) == pytest.approx(0.001)


def test_a_flap_that_is_closed_over_itself_leaves_no_hole():
    # a leaf of two triangles back to back stands on an edge of a box: the edge is met four times
    box = shapes.box((1.0, 1.0, 1.0))
    a, b = box.faces[0, :2]
    leaf = [[a, b, 8], [b, a, 8]]
    vertices = np.vstack([box.vertices, [[5.0, 5.0, 5.0]]])
    mesh, kept = welded(Mesh(vertices, np.vstack([leaf, box.faces])))
    assert kept.tolist() == list(range(2, 14))
    assert uses(mesh) == {2}


def test_a_piece_that_is_doubled_all_over_keeps_one_side_and_others_are_left_alone():
    ball = shapes.sphere(9.0, 24)
    inside_out = Mesh(ball.vertices, ball.faces[:, ::-1])
    other = shapes.box((1.0, 1.0, 1.0), (30.0, 0.0, 0.0))
    mesh, kept = welded(shapes.joined(ball, inside_out, other))
    count = len(ball.faces)
    assert kept.tolist() == [*range(count), *range(2 * count, 2 * count + 12)]
    assert enclosed_volume_ml(mesh) == pytest.approx(enclosed_volume_ml(ball) + 0.001)


def test_welding_opens_no_edge_of_a_scan_that_has_none():
    # the makers' own reduction of the dragon: each edge is met an even number of times
    dragon = scans.dragon()
    assert not (dragon.edges.uses % 2).any()
    mesh, kept = welded(dragon)
    assert len(kept) < len(dragon.faces)
    assert not (mesh.edges.uses % 2).any()


@pytest.mark.parametrize(
    ("mesh", "holes"),
    [
        (shapes.sphere(9.0, 24), 0),
        (shapes.torus(9.0, 3.0, 24), 1),
        (shapes.joined(shapes.torus(9.0, 3.0, 24), shapes.box((1.0, 1.0, 1.0))), 1),
    ],
    ids=["ball", "ring", "ring and box"],
)
def test_handles_follow_eulers_formula(mesh, holes):
    # V - E + F = 2 (pieces - handles).
    assert handles(mesh) == holes


@pytest.mark.parametrize("share", [0.1, 0.4])
def test_turned_triangles_are_turned_back_to_the_majority(share):
    ring = shapes.torus(30.0, 10.0, 48)
    turned = np.random.default_rng(7).random(len(ring.faces)) < share
    faces = np.where(turned[:, None], ring.faces[:, ::-1], ring.faces)
    mended, count = agreeing(Mesh(ring.vertices, faces))
    assert count == np.count_nonzero(turned)
    assert enclosed_volume_ml(mended) == pytest.approx(enclosed_volume_ml(ring))


def test_a_mesh_that_agrees_is_handed_back():
    ring = shapes.torus(30.0, 10.0, 24)
    mended, count = agreeing(ring)
    assert mended is ring
    assert count == 0


def test_a_flap_on_a_closed_surface_is_dropped():
    box = shapes.box((4.0, 4.0, 4.0))
    vertices = np.vstack([box.vertices, [[9.0, 9.0, 9.0]]])
    a, b = box.faces[0][:2]
    mesh, kept = without_flaps(Mesh(vertices, np.vstack([box.faces, [[a, b, 8]]])))
    assert kept.tolist() == list(range(12))
    assert not len(open_edges(mesh))


def test_pieces_of_a_real_scan_agree_with_a_graph_library():
    mesh, _ = welded(scans.bunny())
    graph = nx.Graph()
    graph.add_edges_from(mesh.edges.ends.tolist())
    count, piece = piece_of_faces(mesh)
    assert count == nx.number_connected_components(graph)
    assert len(piece) == len(mesh.faces)


def test_a_coarser_mesh_is_still_closed_and_nearly_as_large():
    ring = shapes.torus(30.0, 10.0, 192)
    coarse, kept = clustered(ring, 2.0)
    assert len(coarse.faces) == len(kept) < 0.2 * len(ring.faces)
    assert not coarse.edges.net.any()
    assert enclosed_volume_ml(coarse) == pytest.approx(enclosed_volume_ml(ring), rel=0.03)
