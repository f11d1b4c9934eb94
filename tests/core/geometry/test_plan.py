"""The shadow of a closed surface and distances from it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial import cKDTree

from blender_addon.core.geometry.plan import edge_distances_mm, shadow_edges
from tests import shapes
from tests.core.case.plates import plate, star


def signed_area(edges):
    start, end = edges[:, 0], edges[:, 1]
    return float(np.sum(start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0])) / 2


def test_shadow_of_a_box_is_its_rectangle():
    edges = shadow_edges(shapes.box([30, 20, 10]))
    assert len(edges) == 4
    assert signed_area(edges) == 600


def test_shadow_of_a_torus_has_an_outer_and_an_inner_rim():
    edges = shadow_edges(shapes.torus(30, 8))
    radius = np.linalg.norm(edges.reshape(-1, 2), axis=1)
    assert set(radius.round(6)) == {22.0, 38.0}
    # polygons of 192 sides: area n / 2 r^2 sin(2 pi / n), the hole taken off
    polygon = 96 * np.sin(2 * np.pi / 192)
    assert signed_area(edges) == pytest.approx(polygon * (38**2 - 22**2), rel=1e-12)


def test_shadow_of_overlapping_pieces_counts_both():
    pair = shapes.joined(shapes.box([10, 10, 10]), shapes.box([10, 10, 10], low=(5, 0, 20)))
    edges = shadow_edges(pair)
    assert len(edges) == 8
    assert signed_area(edges) == 200


@pytest.mark.parametrize("seed", range(3))
def test_distance_from_a_star_is_that_of_its_densely_sampled_surface(seed):
    outline = star(seed)
    mesh = plate(outline)
    edges = shadow_edges(mesh)
    loop = np.vstack([outline, outline[:1]])
    share = np.linspace(0, 1, 4000, endpoint=False)[:, None, None]
    samples = (loop[:-1] + share * np.diff(loop, axis=0)).reshape(-1, 2)
    points = np.random.default_rng(seed).uniform(-150, 150, (500, 2))
    near = cKDTree(samples).query(points)[0]
    far = edge_distances_mm(points, edges)
    assert (far <= near + 1e-6).all()  # the library that makes the plate rounds to 1e-8
    assert (far >= near - 0.02).all()


def test_distances_are_the_same_in_one_go_and_in_many(monkeypatch):
    edges = shadow_edges(plate(star(5)))
    points = np.random.default_rng(0).uniform(-150, 150, (100, 2))
    whole = edge_distances_mm(points, edges)
    monkeypatch.setattr("blender_addon.core.geometry.plan._AT_ONCE", 7)
    assert (edge_distances_mm(points, edges) == whole).all()


def test_no_edges_are_infinitely_far():
    assert edge_distances_mm(np.zeros((2, 2)), np.zeros((0, 2, 2))).tolist() == [np.inf, np.inf]
