import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from blender_addon.core.geometry.girth import girths_mm
from blender_addon.core.geometry.sections import Sections, horizontal_sections
from tests import shapes


def _girth(mesh, z):
    return girths_mm(horizontal_sections(mesh, np.array([z])))[0]


def test_a_band_round_two_posts_spans_the_gap():
    posts = shapes.joined(shapes.box((2, 2, 5)), shapes.box((2, 2, 5), (8, 0, 0)))
    assert _girth(posts, 2.0) == pytest.approx(2 * (10 + 2))


def test_a_band_bridges_a_hollow():
    cross = shapes.joined(shapes.box((10, 2, 5), (-5, -1, 0)), shapes.box((2, 10, 5), (-1, -5, 0)))
    assert _girth(cross, 2.0) == pytest.approx(8 + 4 * np.hypot(4, 4))


@pytest.mark.parametrize("segments", [24, 96, 384])
def test_the_girth_of_a_round_is_reached_from_below(segments):
    exact = 2 * np.pi * 20  # an inscribed polygon: 2 n r sin(pi / n), closed form
    girth = _girth(shapes.cylinder(20, 10, segments), 5.0)
    assert girth < exact
    assert girth == pytest.approx(2 * segments * 20 * np.sin(np.pi / segments))


def test_girth_does_not_change_when_the_piece_is_turned_or_moved_in_plan():
    box = shapes.box((7, 3, 5))
    matrix = np.eye(4)
    matrix[:3, :3] = Rotation.from_euler("z", 33, degrees=True).as_matrix()
    matrix[:2, 3] = 400, -70
    assert _girth(box.moved(matrix), 2.0) == pytest.approx(20.0)


def test_girth_of_a_blade_is_twice_its_breadth_and_of_nothing_zero():
    blade = np.array([[[0.0, 0.0], [3.0, 4.0]], [[3.0, 4.0], [0.0, 0.0]]])
    sections = Sections(np.array([1.0, 2.0]), np.zeros(2, dtype=int), blade)
    assert girths_mm(sections).tolist() == [10.0, 0.0]
