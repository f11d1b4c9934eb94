import numpy as np
import pytest

from blender_addon.core.geometry.sections import horizontal_sections, section_heights_mm
from tests import shapes


def _area_mm2(segments):
    start, end = segments[:, 0], segments[:, 1]
    return float((start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]).sum() / 2)


def test_a_box_is_cut_in_its_own_plan_with_the_solid_on_the_left():
    sections = horizontal_sections(shapes.box((4, 3, 2)), np.array([1.0]))
    assert _area_mm2(sections.at(0)) == pytest.approx(12.0)  # clockwise would be negative


def test_a_plane_through_vertices_gives_a_closed_section():
    ball = shapes.sphere(10, 48)
    rings = np.unique(ball.vertices[:, 2])[1:-1]
    sections = horizontal_sections(ball, rings)
    for number in range(len(rings)):
        segments = np.round(sections.at(number), 9)
        starts = sorted(map(tuple, segments[:, 0].tolist()))
        assert starts == sorted(map(tuple, segments[:, 1].tolist()))


def test_sections_of_a_ring_leave_its_hole_out():
    torus = shapes.torus(30, 10, 192)
    area = _area_mm2(horizontal_sections(torus, np.array([0.0])).at(0))
    exact = np.pi * (40**2 - 20**2)  # closed form; a polygon of 192 sides lacks 0.02 %
    assert exact * (1 - 3e-4) < area < exact


def test_a_plane_beside_the_mesh_gives_nothing():
    sections = horizontal_sections(shapes.box((4, 3, 2)), np.array([-1.0, 1.0, 5.0]))
    assert [len(sections.at(number)) for number in range(3)] == [0, 8, 0]


def test_heights_stand_on_both_sides_of_every_ledge():
    step = shapes.turned([(0, 0), (20, 0), (20, 7.3), (5, 7.3), (5, 30), (0, 30)], 24)
    heights = section_heights_mm(step, 50)
    ledge = heights[np.abs(heights - 7.3) < 1e-3]
    assert ledge.min() < 7.3 < ledge.max()
    assert heights.min() > 0.0
    assert heights.max() < 30.0
