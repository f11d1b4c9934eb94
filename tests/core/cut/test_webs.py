"""Webs in through-holes against closed forms: how many, how long round, how large."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.cut.webs import web_within, webs_of
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage
from tests.judges.nearest import nearest


def webs(mesh, **case):
    case.setdefault("outline", ())
    case.setdefault("inner_diameter_mm", 400.0)
    cut = cased(mesh, **case)
    return webs_in(cut, to_solid(cut.master).simplify(0.3))


def webs_in(case, simple):
    return webs_of(case.master, case.riser_outline, case.riser_mm, simple, Watch())


def ring(radius=40, tube=12, segments=96):
    return shapes.torus(radius, tube, segments)


def test_a_ball_has_no_web():
    assert webs(shapes.sphere(30, 48)).webs == ()


def test_the_web_of_a_ring_is_the_disc_inside_it():
    (web,) = webs(ring()).webs
    # closed form: the inner equator of a torus, radius 40 - 12
    assert web.length_mm == pytest.approx(2 * np.pi * 28, rel=0.01)
    assert web.area_cm2 == pytest.approx(np.pi * 2.8**2, rel=0.01)
    assert web.width_mm == pytest.approx(56, rel=0.01)
    assert np.abs(web.normal) == pytest.approx([0, 0, 1], abs=0.02)
    assert web.thick


@pytest.mark.parametrize("angles", [(90, 0, 0), (35, 20, 70)])
def test_turning_the_ring_turns_its_web(angles):
    matrix = np.eye(4)
    matrix[:3, :3] = Rotation.from_euler("xyz", angles, degrees=True).as_matrix()
    (web,) = webs(ring().moved(matrix)).webs
    assert web.length_mm == pytest.approx(2 * np.pi * 28, rel=0.01)
    assert abs(np.dot(web.normal, matrix[:3, 2])) == pytest.approx(1.0, abs=0.001)


def test_finer_triangles_do_not_change_the_web():
    coarse, fine = (webs(ring(segments=count)).webs[0].length_mm for count in (64, 192))
    assert fine == pytest.approx(coarse, rel=0.01)


def test_two_rings_that_are_one_have_two_webs():
    one = to_solid(ring())
    found = webs(to_mesh(one + one.translate((90, 0, 0)))).webs
    assert [web.length_mm for web in found] == pytest.approx([2 * np.pi * 28] * 2, rel=0.02)
    assert np.ptp([web.at_mm[0] for web in found]) == pytest.approx(90, rel=0.02)


def test_the_web_of_a_jug_is_in_its_handle():
    jug = to_solid(shapes.cylinder(30, 90, 64))
    handle = to_solid(ring(20, 6).moved(shapes_upright(30 + 5, 45)))
    (web,) = webs(to_mesh(jug + handle)).webs
    # closed form: an arc of radius 20 - 6 about x = 35 and the chord of the jug's side at x = 30
    half = np.arccos(-5 / 14)
    exact = 2 * half * 14 + 2 * 14 * np.sin(half)
    assert web.length_mm == pytest.approx(exact, rel=0.02)
    assert web.at_mm[0] > 30 - 15.5  # the jug with its handle stands in the middle


def shapes_upright(x, z):
    """Return how a ring about z is stood up and set beside the jug."""
    matrix = np.eye(4)
    matrix[:3, :3] = Rotation.from_euler("x", 90, degrees=True).as_matrix()
    matrix[:3, 3] = (x, 0, z)
    return matrix


def test_two_feet_on_the_board_hold_a_web_under_their_arch():
    arch = to_solid(shapes.box((60, 20, 60), (-30, -10, 0))) - to_solid(
        shapes.box((30, 30, 40), (-15, -15, -1))
    )
    feet = tuple(np.array([[x, -10], [x + 15, -10], [x + 15, 10], [x, 10.0]]) for x in (-30, 15))
    (web,) = webs(to_mesh(arch), outline=feet, at=(0, 0)).webs
    assert web.length_mm == pytest.approx(2 * (30 + 39 + 6.35), rel=0.02)  # down to the board
    assert web.area_cm2 == pytest.approx(30 * 45.35 / 100, rel=0.03)


def test_the_rim_lies_on_the_piece_and_the_web_outside_of_it():
    mesh = ring()
    case = cased(mesh, outline=(), inner_diameter_mm=400)
    (web,) = webs_in(case, to_solid(case.master)).webs
    _, off = nearest(case.master.vertices, case.master.faces, web.loop_mm)
    assert off.max() < 0.05
    # closed form: what lies in a torus is nearer than 12 to the circle of 40
    inner = web.sheet.corners.mean(axis=1) - web.at_mm
    beside = np.hypot(np.hypot(inner[:, 0], inner[:, 1]) - 40, inner[:, 2])
    assert beside.min() > 12 - 0.1


def test_a_web_keeps_its_measures_wherever_the_piece_is_placed():
    leaning = np.eye(4)
    leaning[:3, :3] = Rotation.from_euler("xyz", (35, 20, 70), degrees=True).as_matrix()
    case = cased(ring().moved(leaning), outline=(), inner_diameter_mm=400)
    placement = np.eye(4)
    placement[:3, :3] = Rotation.from_euler("z", 130, degrees=True).as_matrix()
    placement[:2, 3] = (7, -11)
    found = webs_in(case, to_solid(case.master))
    (web,), (placed,) = found.webs, found.placed(placement).webs
    there = web_within(placed.loop_mm)  # measured again where it lies now
    assert (placed.length_mm, placed.area_cm2, placed.width_mm) == pytest.approx(
        (there.length_mm, there.area_cm2, there.width_mm)
    )
    assert placed.at_mm == pytest.approx(there.at_mm)
    assert placed.normal == pytest.approx(there.normal)
    _, off = nearest(case.master.moved(placement).vertices, case.master.faces, placed.loop_mm)
    assert off.max() < 0.05
    assert np.linalg.norm(np.array(placed.at_mm) - web.at_mm) > 1.0


def test_a_hair_through_a_pinhole_is_no_web():
    plate = to_solid(shapes.box((60, 60, 20))) - to_solid(
        shapes.cylinder(1.2, 30, 32, low=-5).moved(shift(30, 30))
    )
    found = webs(to_mesh(plate))
    assert (found.webs, found.hairs) == ((), 1)


def shift(x, y):
    matrix = np.eye(4)
    matrix[:2, 3] = x, y
    return matrix


def told(mesh, code):
    """Return the warnings of one code that cutting a piece gives."""
    found = cut_stage(cased(mesh, inner_diameter_mm=400.0), NO_MARKS, CutSettings(), Watch())
    return found, [one for one in found.warnings if one.code == code]


def test_many_thick_webs_are_one_warning_that_leads_to_the_thickest():
    plate = to_solid(shapes.box((200, 20, 60), (-100, -10, 0)))
    for number, x in enumerate((-75, -25, 25, 75)):
        plate -= to_solid(shapes.box((20 + 2 * number, 40, 20 + 2 * number), (x - 12, -20, 20)))
    found, (one,) = told(to_mesh(plate), "thick_web")
    assert sum(web.thick for web in found.webs) == 4
    assert "4 of the webs" in one.text
    assert "26.0 mm" in one.text
    assert one.at_mm[0] == pytest.approx(75 - 12 + 13, abs=0.5)


@pytest.mark.parametrize("count", [3, 7])
def test_many_small_parts_are_told_of_by_their_number(count):
    ball = to_solid(shapes.cylinder(60, 60, 48))
    for turn in np.arange(count) * 360 / count:  # pegs that stand up on thin necks
        peg = to_solid(shapes.box((2, 2, 20), (-1, -1, 55))) + to_solid(
            shapes.box((10, 10, 10), (-5, -5, 74))
        )
        ball += peg.translate((40, 0, 0)).rotate((0, 0, turn))
    found, notices = told(to_mesh(ball), "small_part_held")
    assert len(found.tight) == count
    assert len(notices) == min(count, 5)
    if count > 4:
        assert notices[-1].text.startswith("3 more small parts are held fast, by rings")
        assert notices[-1].at_mm == found.tight[4].at_mm
