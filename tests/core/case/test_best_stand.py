"""Nothing better is found by trying every place there is."""

from __future__ import annotations

import pytest

from blender_addon.core.geometry.hull import hull_corners, smallest_circle
from tests import shapes
from tests.core import scans
from tests.core.case.best_stand import shadow, widest_drop_mm, widest_drop_with_cut_mm
from tests.core.case.plates import ell, in_tube, plate, star

BRANCHES = shapes.joined(
    shapes.cylinder(20, 150),
    shapes.box([60, 14, 14], low=(10, -7, 110)),  # high up, over a plain foot
    shapes.box([14, 45, 14], low=(-7, 10, 125)),
)
FIVE = {
    "convex": (lambda: shapes.box([80, 40, 60]), 66.0),
    "not convex": (lambda: plate(ell()), 76.0),
    "long": (lambda: shapes.box([160, 30, 50]), 110.0),
    "branches high up": (lambda: BRANCHES, 95.0),
    "real scan": (scans.bunny, 97.0),
}


@pytest.mark.parametrize("which", FIVE)
def test_channel_is_the_widest_there_is_to_a_tenth_of_a_millimetre(which, tmp_path):
    make, bore_mm = FIVE[which]
    case = in_tube(tmp_path, make(), 2 * bore_mm, cut_rubber_mm=1.0)
    best = widest_drop_mm(shadow(case.master), bore_mm, 13.0)  # at most 0.01 mm too small
    assert case.channel_mm == pytest.approx(best, abs=0.05)


@pytest.mark.parametrize(
    ("seed", "corners", "spare_mm", "cut_mm"), [(34, 15, 1.0, 50.0), (42, 14, 6.0, 50.0)]
)
def test_channel_is_the_widest_where_the_cut_wants_its_rubber_too(
    seed, corners, spare_mm, cut_mm, tmp_path
):
    mesh = plate(star(seed, corners))
    bore_mm = smallest_circle(hull_corners(mesh.vertices[:, :2]))[1] + 13 + spare_mm
    asked = {"cut_rubber_mm": cut_mm, "least_channel_mm": 10.0}
    case = in_tube(tmp_path, mesh, 2 * bore_mm, **asked)
    free = in_tube(tmp_path, mesh, 2 * bore_mm, **{**asked, "cut_rubber_mm": 1.0})
    assert case.kind == "stock tube"
    assert case.channel_mm < free.channel_mm - 0.01  # so that the cut does matter
    tried = widest_drop_with_cut_mm(shadow(case.master), bore_mm, 13.0, cut_mm)
    assert tried - 0.05 <= case.channel_mm <= free.channel_mm
