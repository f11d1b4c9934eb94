"""The wall holds: against closed forms, and against a frame of beams that shares no code."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from blender_addon.core.case.around import CIRCLE, swept
from blender_addon.core.case.bore import Bore, round_bore
from blender_addon.core.case.settings import CaseSettings
from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.wall import ring_loads, wall_needed_mm
from blender_addon.core.catalog.tubes import tubes
from blender_addon.core.constants.case import PRINTED_STRESS_MPA
from blender_addon.core.constants.common import GRAVITY_M_S2
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core import scans


def stadium(half_mm, radius_mm):
    return Bore(swept(np.array([[-half_mm, 0.0], [half_mm, 0.0]]), radius_mm))


def fine(outline, side_mm=3.0):
    """Return the outline with more corners on its long sides: pressure there bends them."""
    ring = shapely.segmentize(shapely.LinearRing(outline), side_mm)
    return np.asarray(ring.coords)[:-1]


def framed(outline, hinges=()):
    """Return the largest moment and pull in a closed ring of beams under a pressure of 1.

    Direct stiffness method, two-dimensional frame; each side is a straight beam with the pressure
    shared out to its ends. ``hinges`` are corners that bear no moment.
    """
    outline = np.asarray(outline)
    count = len(outline)
    ahead = np.roll(outline, -1, axis=0)
    # each corner has a place; a hinged one turns apart for the beam before it and the one after
    turn_before, turn_after = np.arange(count) * 4 + 2, np.arange(count) * 4 + 2
    for hinge in hinges:
        turn_after[hinge] += 1
    stiff, load = np.zeros((4 * count, 4 * count)), np.zeros(4 * count)
    beams = []
    for k in range(count):
        side = ahead[k] - outline[k]
        length = np.hypot(*side)
        cos, sin = side / length
        turn = np.array([[cos, sin, 0], [-sin, cos, 0], [0, 0, 1]])
        turns = np.kron(np.eye(2), turn)
        pull, bend = 1e3 / length, 1.0  # hardly longer when pulled
        own = np.zeros((6, 6))
        own[np.ix_([0, 3], [0, 3])] = pull * np.array([[1, -1], [-1, 1]])
        a, b, c = 12 * bend / length**3, 6 * bend / length**2, bend / length
        own[np.ix_([1, 2, 4, 5], [1, 2, 4, 5])] = [
            [a, b, -a, b], [b, 4 * c, -b, 2 * c],
            [-a, -b, a, -b], [b, 2 * c, -b, 4 * c],
        ]  # fmt: skip
        next_k = (k + 1) % count
        index = [4 * k, 4 * k + 1, turn_after[k], 4 * next_k, 4 * next_k + 1, turn_before[next_k]]
        stiff[np.ix_(index, index)] += turns.T @ own @ turns
        out = np.array([side[1], -side[0]]) / 2  # pressure on half the side, outward
        for corner in (k, next_k):
            load[4 * corner : 4 * corner + 2] += out
        beams.append((index, own @ turns))
    held = [0, 1, 4 * (count // 2) + 1]
    free = np.setdiff1d(np.flatnonzero(np.abs(stiff).sum(axis=0) > 0), held)
    moved = np.zeros(4 * count)
    moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], load[free])
    ends = np.array([own @ moved[index] for index, own in beams])
    return np.abs(ends[:, [2, 5]]).max(), np.abs(ends[:, [0, 3]]).max()


def test_hoop_stress_of_a_round_wall_is_the_handbooks():
    # p r / t at the foot of 300 mm of 1200 kg/m3 in a bore of 160 mm, by hand: 88.26, 70.61 and
    # 39.72 kPa for walls of 3.2, 4.0 and 7.11 mm
    pressure = 1200 * GRAVITY_M_S2 * 0.3 * 1e-6
    for wall_mm, kpa in [(3.2, 88.26), (4.0, 70.61), (7.11, 39.72)]:
        assert wall_needed_mm(round_bore(160.0), pressure, kpa / 1e3) == pytest.approx(
            wall_mm, rel=1e-4
        )


def test_a_polygon_of_a_circle_is_hardly_bent():
    moment, pull = ring_loads(Bore(round_bore(160.0).outline_mm))
    assert moment < 1e-3 * 80**2
    assert pull == pytest.approx(80, rel=1e-3)


def test_moments_in_a_stadium_by_its_own_formula():
    # half the squared distance from the middle, less its mean all round: the ring stays closed
    half, radius = 40.0, 30.0
    flat = half**3 / 3 + half * radius**2
    arc = math.pi / 2 * radius * (half**2 + radius**2) + 2 * half * radius**2
    mean = (flat + arc) / (half + math.pi / 2 * radius)
    middle, end = (mean - radius**2) / 2, ((half + radius) ** 2 - mean) / 2
    bore = stadium(half, radius)
    # hinged at its ends, half of it is an arch: no less is bent than where it is stiff
    assert ring_loads(bore)[0] >= 0.999 * max(middle, end)
    stiff = framed(fine(bore.outline_mm))[0]
    assert stiff == pytest.approx(max(middle, end), rel=2e-3)


@pytest.mark.parametrize("shape", ["stadium", "ellipse", "egg"])
def test_moment_and_pull_agree_with_a_frame_of_beams(shape):
    bore = {
        "stadium": lambda: stadium(40.0, 30.0),
        "ellipse": lambda: Bore(CIRCLE * [90.0, 50.0]),
        "egg": lambda: Bore(swept(np.array([[-30.0, -8], [25, -12], [30, 20]]), 25.0)),
    }[shape]()
    left, right = bore.seam_x_mm
    # corners at both seams, so that they can be hinged
    outline = np.vstack([bore.outline_mm, [[left, 0], [right, 0]]])
    angle = np.arctan2(outline[:, 1], outline[:, 0]).round(9)
    outline = fine(outline[np.unique(angle, return_index=True)[1]])
    seams = [int(np.hypot(*(outline - [x, 0]).T).argmin()) for x in (left, right)]
    stiff, free = framed(outline), framed(outline, hinges=seams)
    moment, pull = ring_loads(bore)
    assert moment == pytest.approx(max(stiff[0], free[0]), rel=0.01)
    assert pull == pytest.approx(max(stiff[1], free[1]), rel=0.02)


def test_twice_the_size_needs_twice_the_wall_under_the_same_pressure():
    one, two = stadium(40.0, 30.0), stadium(80.0, 60.0)
    least = wall_needed_mm(one, 0.003, 5.0)
    assert wall_needed_mm(two, 0.003, 5.0) == pytest.approx(2 * least, rel=1e-3)


@pytest.mark.parametrize("kind", ["printed round", "printed oval", "printed contour"])
def test_wall_of_a_printed_case_holds_with_its_safety(kind):
    # a long slab, 300 mm high: its sides are flat and wide
    scan = scans.standing(shapes.box([180, 40, 300]))
    settings = CaseSettings(kind=kind, printed_wall_mm=2.0)
    case = case_stage(scan, tubes(), settings, Watch())
    outline = case.bore.outline_mm
    moment, pull = framed(fine(outline[:: max(1, len(outline) // 200)]))
    pressure = 1400 * GRAVITY_M_S2 * case.height_mm * 1e-9
    stress = pressure * (pull / case.wall_mm + 6 * moment / case.wall_mm**2)
    assert stress <= PRINTED_STRESS_MPA * 1.01
    raised = {notice.code for notice in case.warnings} & {"wall_raised"}
    assert bool(raised) == (case.wall_mm > 2.0)
    assert (case.wall_mm > 2.0) == (kind != "printed round")
