"""Knife guides: closed, on the line, off the block by the gap, printable as they stand."""

from dataclasses import replace

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.case.girth import around_mm, places_mm
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.geometry.convex import cleaned
from blender_addon.core.geometry.manifold import prism
from blender_addon.core.parts.guide_stage import guide_stage
from blender_addon.core.parts.result import PartsResult
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage
from tests.core.parts.made import egg, ellipse
from tests.judges.nearest import nearest

BORES = {"round": None, "oval": ellipse(95, 70), "contour": egg()}
GAP = 0.4


def guided(case, cut, **settings):
    settings = PartsSettings(guide="edge", fit_mm=GAP, **settings)
    return guide_stage(case, cut, PartsResult(()), settings, Watch())


def made(bore, way, **settings):
    case = cased(shapes.cylinder(20, 90), at=(0, 0), inner_diameter_mm=140.0, bore=BORES[bore])
    settings = CutSettings(way=way, least_slit_mm=75, **settings)
    return case, cut_stage(case, NO_MARKS, settings, Watch())


@pytest.fixture(scope="module", params=[(b, w) for b in sorted(BORES) for w in ("slit", "halves")])
def guide(request):
    case, cut = made(*request.param)
    return case, cut, guided(case, cut)


def placed(part):
    return part.mesh.moved(part.to_assembly)


def traces(case, cut):
    """Return the lines up the outside, ascending."""
    line = cut.zigzag_mm
    if cut.kind == "one slit":
        return [line]
    top = np.flatnonzero(line[:, 2] >= case.level_z_mm - 1e-6)
    return [line[: top[0] + 1], line[top[-1] :][::-1]]


def test_a_guide_is_one_closed_solid_that_does_not_cross_itself(guide):
    *_, found = guide
    assert len(found.parts) == len(found.guides) >= 1
    for part in found.parts:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight
        assert judge.is_winding_consistent
        assert judge.body_count == 1
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(np.array(part.mesh.vertices), np.array(part.mesh.faces, np.uint64))
        )
        # what it fills, counted once: less than its volume if it went through itself
        filled = solid ^ manifold3d.Manifold.cube((1e3, 1e3, 1e3), center=True)
        assert filled.volume() == pytest.approx(judge.volume, rel=1e-5)
        assert judge.volume > 5000.0


def test_its_edge_lies_on_the_line_and_nothing_of_it_beyond(guide):
    case, cut, found = guide
    bore = case.bore if case.bore.is_round else replace(
        case.bore, outline_mm=cleaned(case.bore.outline_mm)
    )  # fmt: skip
    for part, line in zip(found.parts, traces(case, cut), strict=True):
        mesh = placed(part)
        z = np.arange(line[0, 2] + 0.5, line[-1, 2] - 0.5, 0.7)
        spots = np.column_stack([np.interp(z, line[:, 2], line[:, k]) for k in range(2)])
        around = np.unwrap(around_mm(bore, spots), period=bore.girth_mm)
        middle = mesh.vertices[:, :2].mean(axis=0)
        (x, y), (u, v) = spots.mean(axis=0), middle
        aside = np.sign(x * v - y * u)  # where the plate lies, seen from above
        off = {}
        for beyond_mm in (0.0, 1.0):
            at = places_mm(bore, around - aside * beyond_mm, np.full(len(z), GAP))
            places = np.column_stack([at, z])
            _, off[beyond_mm] = nearest(mesh.vertices, mesh.faces, places, tried=60)
        assert off[0.0].max() < 0.1
        assert off[1.0].min() > 0.3  # a millimetre beyond a line that leans by 70 degrees at most


def test_it_keeps_its_gap_to_the_block_everywhere(guide):
    case, _, found = guide
    block = prism([np.array(case.bore.outline_mm)], 0.0, case.level_z_mm)
    for part in found.parts:
        mesh = placed(part)
        off = -case.bore.distances_mm(mesh.vertices[:, :2])
        assert off.min() == pytest.approx(GAP, abs=0.01)
        assert off.max() == pytest.approx(GAP + 5.0, abs=0.2)  # the foot, at corners of the bore
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(np.array(mesh.vertices), np.array(mesh.faces, np.uint64))
        )
        assert (solid ^ block).volume() == 0.0
        middles = mesh.corners.mean(axis=1)
        inner = -case.bore.distances_mm(middles[:, :2])
        assert inner.min() > GAP - 0.08  # sides of 3 mm on a wall of 70 mm


def test_it_stands_on_the_bed_and_prints_without_supports(guide):
    *_, found = guide
    assert found.warnings == ()
    for part in found.parts:
        assert part.role == "guide"
        assert part.fits_bed
        assert part.overhang.prints_without_supports
        assert part.mesh.bounds[0][2] == 0.0
        assert placed(part).bounds[0][2] == pytest.approx(0.0, abs=1e-6)


def test_its_straight_edge_stands_on_the_line_that_a_seam_leaves(guide):
    case, _, found = guide
    left, right = case.bore.seam_x_mm
    for part, place in zip(found.parts, found.guides, strict=True):
        assert (place.to_seam_mm, place.way) == (0.0, "")
        seam = np.array([left if place.seam == "left" else right, 0.0])
        points = placed(part).vertices
        near = points[np.linalg.norm(points[:, :2] - seam, axis=1) < GAP + 0.2]
        assert np.ptp(near[:, 2]) == pytest.approx(part.tall_mm, abs=1e-3)
        assert np.abs(near[:, 1]).max() < 0.2


def test_where_no_seam_is_handy_the_way_to_the_nearest_is_told():
    case, cut = made("round", "slit", start_deg=185.0)  # beside the seam at the left
    found = guided(case, cut)
    (place,) = found.guides
    (part,) = found.parts
    assert place.seam == "left"
    assert place.way in {"left", "right"}
    points = placed(part).vertices
    around = around_mm(case.bore, points[:, :2])
    far = around.max() if cut.zigzag_mm[0, 0] < 0 else around.min()
    seam = around_mm(case.bore, np.array([[-70.0, 0.0]]))[0]
    assert place.to_seam_mm == pytest.approx(abs(far - seam), abs=0.3)
    assert place.way == ("right" if far > seam else "left")


def test_a_low_printer_gets_it_in_pieces_that_stand_on_each_other():
    case, cut = made("round", "slit")
    (whole,) = guided(case, cut).parts
    found = guided(case, cut, bed_z_mm=60.0)
    assert [one.name for one in found.parts] == ["knife guide lower", "knife guide upper"]
    lower, upper = (placed(one) for one in found.parts)
    assert lower.bounds[1][2] == pytest.approx(upper.bounds[0][2], abs=1e-4)
    assert upper.bounds[1][2] == pytest.approx(placed(whole).bounds[1][2], abs=1e-4)
    assert all(one.tall_mm <= 60.0 for one in found.parts)


def test_none_is_made_unasked():
    case, cut = made("round", "slit")
    parts = PartsResult(())
    assert guide_stage(case, cut, parts, PartsSettings(), Watch()) is parts


def test_where_none_can_be_made_the_parts_say_so():
    case, cut = made("round", "slit")
    (notice,) = guided(case, replace(cut, kind="none")).warnings
    assert notice.code == "no_guide"
    angle = np.linspace(0.0, 2.5, 50)  # a line that winds round the block
    line = np.column_stack([70 * np.cos(angle), 70 * np.sin(angle), np.linspace(0, 80, 50)])
    found = guided(case, replace(cut, zigzag_mm=line))
    assert found.parts == ()
    assert "175.0 mm round the block" in found.warnings[0].text
