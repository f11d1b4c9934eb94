import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.solid import enclosed_volume_ml
from blender_addon.core.geometry.volume_below import volume_below_ml
from tests import shapes

ML = 1e-3


def test_a_box_fills_in_proportion():
    heights = np.array([-1.0, 0.0, 2.5, 10.0, 11.0])
    below = volume_below_ml(shapes.box((10, 10, 10)), heights)
    assert below == pytest.approx([0.0, 0.0, 0.25, 1.0, 1.0], abs=1e-12)


def test_a_cone_fills_by_the_cube_of_what_is_left():
    cone = shapes.turned([(0, 0), (40, 0), (0, 120)], 512)
    heights = np.linspace(0, 120, 13)
    exact = np.pi * 40**2 * 120 / 3 * (1 - (1 - heights / 120) ** 3) * ML  # closed form
    share = 512 / (2 * np.pi) * np.sin(2 * np.pi / 512)  # polygon in its circle
    assert volume_below_ml(cone, heights) == pytest.approx(exact * share, abs=1e-9)


def test_a_ball_fills_by_its_caps():
    heights = np.linspace(-50, 50, 21)
    cap = heights + 50
    exact = np.pi * cap**2 * (150 - cap) / 3 * ML  # spherical cap, closed form
    below = volume_below_ml(shapes.sphere(50, 384), heights)
    assert (below <= exact + 1e-9).all()  # inscribed: never more
    assert below == pytest.approx(exact, abs=2e-4 * exact[-1])


@pytest.mark.parametrize("seed", range(3))
def test_any_plane_cuts_a_ring_as_the_solid_library_does(seed):
    turn = np.eye(4)
    turn[:3, :3] = Rotation.random(random_state=seed).as_matrix()
    turn[:3, 3] = 900, -500, 20
    torus = shapes.torus(60, 15, 48).moved(turn)
    low, high = torus.bounds
    heights = np.linspace(low[2], high[2], 9)[1:-1]
    below = volume_below_ml(torus, heights)
    for height, ml in zip(heights, below, strict=True):
        upper, lower = to_solid(torus).split_by_plane((0.0, 0.0, 1.0), float(height))
        assert ml == pytest.approx(lower.volume() * ML, rel=1e-9)
        assert enclosed_volume_ml(torus) - ml == pytest.approx(upper.volume() * ML, rel=1e-9)


def test_heights_through_vertices_are_exact():
    stairs = shapes.turned([(0, 0), (20, 0), (20, 5), (10, 5), (10, 9), (0, 9)], 4)
    square = 2.0  # a square in a circle: 2 r^2
    exact = [square * 400 * 5, square * (400 * 5 + 100 * 4)]
    assert volume_below_ml(stairs, np.array([5.0, 9.0])) == pytest.approx(np.array(exact) * ML)
