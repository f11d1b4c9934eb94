"""Lines over surfaces against exact geodesics, and loops through holes against closed forms."""

import networkx as nx
import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from blender_addon.core.cut.way import Ground, Ways
from blender_addon.core.geometry.cycle_basis import cycle_basis
from blender_addon.core.geometry.hole_loops import hole_loops
from blender_addon.core.geometry.linking import linked_oddly
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.short_edges import cut_short
from blender_addon.core.geometry.surface_graph import surface_links
from tests import shapes


def length(line):
    return np.linalg.norm(np.diff(line, axis=0), axis=1).sum()


def way(mesh, start, end, *, barred=None, costs=None):
    """Return the cheapest line between the vertices nearest to two places."""
    ends = []
    for place in (start, end):
        chosen = np.zeros(len(mesh.vertices), dtype=bool)
        chosen[np.linalg.norm(mesh.vertices - place, axis=1).argmin()] = True
        ends.append(chosen)
    ground = Ground(
        mesh,
        np.ones(len(mesh.vertices)) if costs is None else costs,
        np.zeros(len(mesh.faces), dtype=bool) if barred is None else barred,
    )
    line = Ways(ground, ends[0], 1.0).cheapest(ends[1])
    return line, *(mesh.vertices[one][0] for one in ends)


def ball(level=4, radius=40.0):
    made = trimesh.creation.icosphere(level, radius)
    return Mesh(made.vertices, made.faces)


BAR = cut_short(shapes.cylinder(20, 100), 3.0)[0]


@pytest.mark.parametrize("angles", [(0, 0, 0), (20, 50, 70)])
@pytest.mark.parametrize("end", [(0, 40, 0), (-28, 10, 27), (5, -20, -34)])
def test_on_a_ball_a_line_is_a_great_circle(angles, end):
    turn = Rotation.from_euler("xyz", angles, degrees=True).as_matrix()
    mesh = ball()
    mesh = mesh.with_vertices(mesh.vertices @ turn.T)
    line, a, b = way(mesh, turn @ [40.0, 0, 0], turn @ np.array(end, float))
    exact = 40 * np.arccos(a @ b / (np.linalg.norm(a) * np.linalg.norm(b)))
    assert length(line) == pytest.approx(exact, rel=0.02)


def test_a_way_does_not_depend_on_where_others_led_before():
    mesh = ball(3)
    costs = np.linspace(1.0, 2.0, len(mesh.vertices))
    ground = Ground(mesh, costs, np.zeros(len(mesh.faces), dtype=bool))
    starts, *ends = np.arange(len(mesh.vertices)) == np.array([[0], [200], [500]])
    shared = Ways(ground, starts, 2.0)
    for end in (*ends, ends[0]):
        assert np.array_equal(shared.cheapest(end), Ways(ground, starts, 2.0).cheapest(end))


@pytest.mark.parametrize(("angle", "z"), [(30, 90), (100, 60), (170, 35), (0, 80)])
def test_on_a_round_bar_a_line_is_a_helix(angle, z):
    turn = np.radians(angle)
    end = [20 * np.cos(turn), 20 * np.sin(turn), z]
    line, a, b = way(BAR, [20.0, 0, 5], end)
    apart = np.arctan2(b[1], b[0]) - np.arctan2(a[1], a[0])
    exact = np.hypot(20 * apart, b[2] - a[2])  # unrolled it is straight
    assert length(line) == pytest.approx(exact, rel=0.02)


def test_finer_triangles_do_not_change_a_line():
    lines = [way(ball(level), [40.0, 0, 0], [-20, 20, 28.0])[0] for level in (3, 4, 5)]
    lengths = [length(line) for line in lines]
    assert lengths == pytest.approx([lengths[-1]] * 3, rel=0.02)


def test_a_line_goes_round_what_is_barred():
    middles = BAR.corners.mean(axis=1)
    wall = (np.abs(middles[:, 2] - 50) < 4) & (middles[:, 0] > -10)
    free, *_ = way(BAR, [20.0, 0, 5], [20, 0, 95.0])
    line, *_ = way(BAR, [20.0, 0, 5], [20, 0, 95.0], barred=wall)
    assert length(line) > length(free) + 10
    near = (np.abs(line[:, 2] - 50) < 4) & (line[:, 0] > -9.9)
    assert not near.any()
    assert way(BAR, [20.0, 0, 5], [20, 0, 95.0], barred=np.abs(middles[:, 2] - 50) < 4)[0] is None


def test_a_line_shuns_what_is_dear():
    costs = np.where((BAR.vertices[:, 1] > 0) & (np.abs(BAR.vertices[:, 2] - 50) < 20), 9.0, 1.0)
    start, end = [14.1, 14.1, 5.0], [14.1, 14.1, 95.0]
    line, *_ = way(BAR, start, end, costs=costs)
    middle = line[np.abs(line[:, 2] - 50) < 18]
    assert (middle[:, 1] < 1.0).mean() > 0.9


def test_links_make_up_for_what_edges_alone_miss():
    pairs, lengths = surface_links(BAR)
    graph = nx.Graph()
    graph.add_weighted_edges_from(
        (int(a), int(b), float(far)) for (a, b), far in zip(pairs, lengths, strict=True)
    )
    start, end = (
        int(np.linalg.norm(BAR.vertices - spot, axis=1).argmin())
        for spot in ([20.0, 0, 5], [20.0, 0, 95])
    )
    found = nx.dijkstra_path_length(graph, start, end)
    rise = BAR.vertices[end, 2] - BAR.vertices[start, 2]
    assert rise - 1e-9 <= found < 1.05 * rise


def test_a_ring_has_two_classes_of_loops_and_a_ball_none():
    assert cycle_basis(ball(2)).loops == ()
    assert len(cycle_basis(shapes.torus(30, 10, 24)).loops) == 2


def test_classes_tell_loops_that_can_be_drawn_together_from_others():
    ring = shapes.torus(30, 10, 24)
    basis = cycle_basis(ring)
    number = {tuple(sorted(ends)): k for k, ends in enumerate(ring.edges.ends.tolist())}

    def class_of(loop):
        total = 0
        for a, b in zip(loop, np.roll(loop, -1), strict=True):
            total ^= int(basis.edge_class[number[tuple(sorted((int(a), int(b))))]])
        return total

    assert [class_of(loop) for loop in basis.loops] == [1, 2]
    around = np.arange(24)  # each point of the profile is a ring of 24 vertices
    assert class_of(around) == class_of(around + 5 * 24) != 0
    across = 24 * np.arange(24)
    assert class_of(across) not in (0, class_of(around))
    face = ring.faces[7]
    assert class_of(face) == 0


def test_links_of_a_chain_pass_through_each_other_and_rings_apart_do_not():
    angle = 2 * np.pi * np.arange(40) / 40
    flat = np.column_stack([np.cos(angle), np.sin(angle), 0 * angle])
    upright = np.column_stack([1 + np.cos(angle), 0 * angle, np.sin(angle)])
    assert linked_oddly([flat], [upright, upright + [3, 0, 0], flat + [0, 0, 2]]).tolist() == [
        [True, False, False]
    ]


@pytest.mark.parametrize("angles", [(0, 0, 0), (40, 10, 80)])
def test_the_loop_of_a_ring_goes_round_its_hole_and_not_round_its_tube(angles):
    turn = Rotation.from_euler("xyz", angles, degrees=True).as_matrix()
    ring = shapes.torus(40, 12, 64)
    (loop,) = hole_loops(ring.with_vertices(ring.vertices @ turn.T), 20)
    round_axis = ring.vertices[loop]
    # the tube's own girth, 2 pi 12, is shorter than the hole's, 2 pi 28: it is not taken
    assert length(np.vstack([round_axis, round_axis[:1]])) == pytest.approx(
        2 * np.pi * 28, rel=0.01
    )
