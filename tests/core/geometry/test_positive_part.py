import numpy as np
import pytest

from blender_addon.core.geometry.positive_part import positive_shares


def _grid(count):
    axis = np.linspace(-1.2, 1.2, count)
    return np.stack(np.meshgrid(axis, axis, axis, indexing="ij")), axis[1] - axis[0]


def test_a_plane_cuts_exactly_whichever_way_it_lies():
    (x, y, z), pitch = _grid(13)
    for normal in ((1, 0, 0), (1, 1, 1), (3, -2, 1)):
        field = normal[0] * x + normal[1] * y + normal[2] * z
        volume = positive_shares(field).sum() * pitch**3
        assert volume == pytest.approx(2.4**3 / 2)  # through the middle: half, closed form


@pytest.mark.parametrize("case", [(0.25,), (0.25, 0.5), (0.25, 0.5, 0.75)])
def test_the_corner_of_a_cube_is_cut_as_its_closed_form(case):
    # x + y + z < s in the unit cube: s^3 / 6 while s <= 1, closed form
    x, y, z = np.mgrid[:2, :2, :2].astype(float)
    for s in case:
        assert positive_shares(s - x - y - z).sum() == pytest.approx(s**3 / 6)


def test_complements_add_up_to_the_whole():
    field = np.random.default_rng(0).normal(size=(9, 8, 7))
    both = positive_shares(field) + positive_shares(-field)
    assert both == pytest.approx(np.ones((8, 7, 6)))


def test_a_ball_is_reached_from_below_by_the_square_of_the_pitch():
    errors = []
    for count in (25, 49, 97):
        (x, y, z), pitch = _grid(count)
        volume = positive_shares(1.0 - np.sqrt(x**2 + y**2 + z**2)).sum() * pitch**3
        errors.append(4 / 3 * np.pi - volume)
    assert min(errors) > 0.0
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.1)
