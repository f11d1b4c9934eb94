"""The parts in their places and on the printer, judged by other libraries."""

from __future__ import annotations

import io
import math

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.files.threemf_write import NamedSolid
from blender_addon.core.files.write import write_3mf
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.parts.split import foot_mm
from tests import shapes
from tests.core.amounts import rubber_of
from tests.core.cases import airless, cased
from tests.core.parts.made import (
    LAYOUTS,
    TOUCH_MM3,
    by_name,
    in_job_frame,
    laid_out,
    made,
    placed,
    settings_of,
)
from tests.core.scans import bunny
from tests.judges import solids

NAMES = ["case back", "case front", "base board", "funnel"]


@pytest.fixture(scope="module", params=list(LAYOUTS))
def name(request):
    return request.param


@pytest.fixture(scope="module")
def laid(name):
    return laid_out(name)


def test_parts_are_named_for_what_they_are(laid):
    _, _, parts = laid
    names = [part.name for part in parts]
    assert len(set(names)) == len(names)
    assert names[-1] == "funnel"
    roles = {"case": "case", "base": "base", "funnel": "funnel"}
    assert [part.role for part in parts] == [roles[one.split()[0]] for one in names]
    assert all(part.quantity == 1 for part in parts)
    lies = {"case": "upside down", "base": "as it stands", "funnel": "upside down"}
    assert all(part.lies == lies[part.role] for part in parts)


@pytest.mark.parametrize("plain", ["low", "stock tube", "no freeboard", "clips and cord"])
def test_what_fits_the_bed_is_not_split(plain):
    assert [part.name for part in laid_out(plain)[2]] == NAMES


def test_trimesh_finds_each_part_one_closed_solid(laid):
    for part in laid[2]:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight
        assert judge.is_winding_consistent
        assert judge.body_count == 1
        assert judge.area_faces.min() > 0
        assert judge.volume / 1000 == pytest.approx(part.volume_ml, rel=1e-9)
        assert part.volume_ml > 0
        assert judge.extents == pytest.approx(part.size_mm, abs=1e-4)


def test_an_stl_of_each_part_is_closed_when_read_back(laid):
    # an STL has no shared corners: a reader joins those that are equal in float32
    for part in laid[2]:
        stl = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        back = trimesh.load(io.BytesIO(stl.export(file_type="stl")), file_type="stl")
        assert back.is_watertight
        assert len(back.faces) == len(part.mesh.faces)
        assert len(back.vertices) == len(part.mesh.vertices)


def test_lib3mf_finds_every_part_manifold_oriented_named_and_in_millimetres(laid, tmp_path):
    named = [NamedSolid(part.name, part.mesh, part.to_assembly) for part in laid[2]]
    write_3mf(tmp_path / "parts.3mf", named)
    unit, seen = solids.by_lib3mf(tmp_path / "parts.3mf")  # raises where one is not manifold
    assert unit == "MilliMeter"
    assert [one.name for one in seen] == [part.name for part in laid[2]]
    for one, part in zip(seen, laid[2], strict=True):
        assert one.volume_mm3 / 1000 == pytest.approx(part.volume_ml, rel=1e-5)


def test_each_part_lies_centred_on_a_bed_that_holds_it(laid, name):
    settings = settings_of(name)
    bed = (settings.bed_x_mm, settings.bed_y_mm, settings.bed_z_mm)
    for part in laid[2]:
        low, high = part.mesh.bounds
        assert low[2] == 0
        assert low[:2] == pytest.approx(-high[:2], abs=1e-4)
        assert part.fits_bed
        assert (high - low <= np.array(bed) + 1e-3).all()
        turn = part.to_assembly[:3, :3]
        assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(turn) == pytest.approx(1)


def test_nothing_overhangs_more_than_45_degrees_on_the_printer(laid):
    # 45 degrees without supports: common practice, no source
    for part in laid[2]:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        off_bed = judge.triangles[:, :, 2].max(axis=1) > 1e-3
        hangs = off_bed & (judge.face_normals[:, 2] < -math.cos(math.radians(45.0)) - 1e-3)
        assert judge.area_faces[hangs].sum() < 1e-3, part.name
        assert part.overhang.prints_without_supports


def test_no_part_cuts_into_another_or_into_the_master(laid):
    case, _, parts = laid
    bodies = [to_solid(case.master), *(placed(part) for part in parts)]
    for k, one in enumerate(bodies):
        for other in bodies[:k]:
            assert (one ^ other).volume() < TOUCH_MM3


def test_each_part_is_where_it_belongs(laid, name):
    case, funnel, parts = laid
    settings = settings_of(name)
    foot = 0 if case.kind == "stock tube" else 2
    walls = np.vstack([in_job_frame(part) for part in by_name(parts, "case")])
    assert walls[:, 2].min() == pytest.approx(-foot, abs=1e-4)
    assert walls[:, 2].max() == pytest.approx(case.height_mm, abs=1e-4)
    for side, ends in (("back", 1), ("front", -1)):
        piece = np.vstack([in_job_frame(one) for one in by_name(parts, f"case {side}")])
        assert (piece[:, 1] * ends).max() > case.inner_diameter_mm / 4
    reach = walls[:, 2] > 20
    far = np.abs(walls[reach][:, :2]).max()
    assert far > case.wall_mm + settings.flange_mm
    board = np.vstack([in_job_frame(part) for part in by_name(parts, "base")])
    assert board[:, 2].min() == pytest.approx(-6, abs=1e-4)
    assert board[:, 2].max() == pytest.approx(max(case.riser_mm, 5), abs=1e-4)
    spout = in_job_frame(parts[-1])
    assert spout[:, 2].max() == pytest.approx(funnel.top_z_mm, abs=1e-4)
    # without freeboard the throat ends over the rim, in the saddle that rests there
    lowest = min(funnel.throat_bottom_z_mm, case.height_mm)
    inside = case.bore.distances_mm(spout[:, :2]) > settings.fit_mm
    assert spout[inside, 2].min() == pytest.approx(lowest, abs=1e-4)


def test_the_bore_is_never_narrower_than_it_should_be(laid):
    case, _, parts = laid
    bar = case.bore.section().extrude(case.height_mm)
    wider = case.bore.offset(0.05).section().extrude(case.height_mm)
    walls = by_name(parts, "case")
    assert all((placed(part) ^ bar).volume() < TOUCH_MM3 for part in walls)
    assert all((placed(part) ^ wider).volume() > TOUCH_MM3 for part in walls)


def test_case_and_board_enclose_just_the_rubber(laid, name):
    # flood the assembled case to the level and take the pool inside, without any closed form
    case, funnel, parts = laid
    level = case.level_z_mm
    block = manifold3d.Manifold.cube((1000, 1000, level)).translate((-500, -500, 0))
    # the wax: a film in the outer half of the wall over every seam, where parts only touch
    outer = case.bore.offset(case.wall_mm + 0.4).section()
    wax = (outer - case.bore.offset(case.wall_mm / 2).section()).extrude(level)
    walls = [placed(part) for part in parts[:-1]]
    outside = block - manifold3d.Manifold.batch_boolean([*walls, wax], manifold3d.OpType.Add)
    inside = [p for p in outside.decompose() if max(np.abs(p.bounding_box())[:2]) < 499]
    pool = max(inside, key=lambda piece: piece.volume())
    rubber_ml = (pool - to_solid(case.master)).volume() / 1000
    rubber = rubber_of(airless(), case, funnel)
    gap_ml = case.bore.girth_mm * settings_of(name).fit_mm * foot_mm(case, settings_of(name)) / 1e3
    assert rubber_ml == pytest.approx(rubber.volume_ml, rel=0.005, abs=2 * gap_ml)


@pytest.mark.parametrize("seed", range(6))
def test_parts_stay_closed_whatever_the_sizes(seed):
    random = np.random.default_rng(seed)
    radius, gap = random.uniform(15, 90), random.uniform(14, 40)
    case = cased(
        shapes.cylinder(radius, random.uniform(20, 400)),
        inner_diameter_mm=2 * (radius + gap),
        wall_mm=random.uniform(1, 10),
        at=(0.0, -random.uniform(0.5, 0.9) * gap),
    )
    _, parts = made(
        case,
        bowl_ml=random.uniform(10, 3000),
        fit_mm=random.uniform(0.05, 2),
        flange_mm=random.uniform(16, 60),
        flange_thickness_mm=random.uniform(2, min(radius / 2, 20)),
        bed_x_mm=random.uniform(180, 400),
        bed_y_mm=random.uniform(180, 400),
        bed_z_mm=random.uniform(170, 400),
    )
    assert all(trimesh.Trimesh(p.mesh.vertices, p.mesh.faces).is_volume for p in parts)
    assert all(part.overhang.prints_without_supports for part in parts)
    bodies = [placed(part) for part in parts]
    for k, one in enumerate(bodies):
        assert all((one ^ other).volume() < TOUCH_MM3 for other in bodies[:k])


def test_the_parts_of_a_scan():
    case = cased(bunny(120.0), inner_diameter_mm=180.0)
    _, parts = made(case)
    assert all(to_solid(part.mesh).status() == manifold3d.Error.NoError for part in parts)
    master = to_solid(case.master)
    assert all((placed(part) ^ master).volume() < TOUCH_MM3 for part in parts)
