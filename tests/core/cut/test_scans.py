"""The whole stage on open scans and on the samples: proven, clear of marks, far from all."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.stock import stock_of
from blender_addon.core.cut import halfway, piece
from blender_addon.core.cut.barred import crosses_marks
from blender_addon.core.cut.marks import NO_MARKS, Marks, marks_on_master
from blender_addon.core.cut.proof import prove_halves
from blender_addon.core.files.read import read
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.settings import from_tables, load
from blender_addon.core.watch import Watch
from tests import scans
from tests.core.cases import cut_stage
from tests.judges.nearest import nearest

FOLDER = Path(__file__).resolve().parents[3] / "sample_scenes"
SAMPLES = {"toadstool": "ply", "watering_can": "stl", "hedgehog": "ply"}
HALVES = {"toadstool"}
"""A young one stands beside it, which no one slit frees."""

SCANS = {"bunny": scans.bunny, "dragon": scans.dragon}
"""Scans whose +y points up; one of each is laid out 150 mm high."""


@pytest.fixture(
    scope="module",
    params=[*sorted(SAMPLES), "bunny", pytest.param("dragon", marks=pytest.mark.once)],
)
def sample(request):
    name = request.param
    if name in SAMPLES:
        settings = load(FOLDER / f"{name}.toml")
        mesh = read(FOLDER / f"{name}.{SAMPLES[name]}")
    else:
        settings, mesh = from_tables({"scan": {"height_mm": 150.0, "up": "+y"}}), SCANS[name]()
    scan = scan_stage(mesh, settings.scan, Watch())
    case = case_stage(scan, stock_of(settings.case), settings.case, Watch())
    found = cut_stage(case, NO_MARKS, settings.cut, Watch())
    wanted = "two halves" if name in HALVES else "one slit"
    assert (found.kind, found.proof.pieces) == (wanted, 2 if name in HALVES else 1)
    assert found.pull.word != "do not"
    if wanted == "one slit":
        return scan, case, settings.cut, found
    slit = replace(settings.cut, way="slit")
    return scan, case, slit, cut_stage(case, NO_MARKS, slit, Watch())


def test_the_cut_is_proven_by_cutting(sample):
    *_, found = sample
    assert found.proof.pieces == 1
    assert found.proof.opens
    assert found.proof.error_share < 1e-3


def test_the_slit_lies_on_the_scan_and_its_teeth_keep_off(sample):
    _, case, settings, found = sample
    _, off = nearest(case.master.vertices, case.master.faces, found.slit_mm)
    assert off.max() < 0.01
    rows = found.ribbon.vertices.reshape(-1, 4, 3)
    ways = rows[:, 1] - rows[:, 0]
    turned = np.abs(np.cross(ways, rows[:, 3] - rows[:, 0])[:, 2]) > 1e-6
    beyond = rows[turned, 1:].reshape(-1, 3)
    assert len(beyond) > 20
    _, off = nearest(case.master.vertices, case.master.faces, beyond, tried=60)
    assert off.min() >= settings.keep_off_mm - 0.02
    slant = rows[turned, 2]
    assert case.bore.distances_mm(slant[:, :2]).min() >= settings.keep_off_mm - 0.3


def test_no_cut_crosses_what_is_marked(sample):
    scan, case, settings, found = sample
    face, _ = nearest(case.master.vertices, case.master.faces, found.slit_mm)
    start = found.slit_mm[len(found.slit_mm) // 2]
    near = np.linalg.norm(case.master.corners.mean(axis=1) - start, axis=1) < 12
    assert near[face].any()
    given = np.zeros(scan.source_faces.max() + 1, dtype=bool)
    source = scan.source_faces[near]
    given[source[source >= 0]] = True
    marks = marks_on_master(scan, Marks(given), Watch())
    again = cut_stage(case, marks, settings, Watch())
    crossed, _ = nearest(case.master.vertices, case.master.faces, again.slit_mm)
    assert not marks.faces[crossed].any()
    assert again.kind == "one slit"
    assert again.proof.opens
    assert again.proof.error_share < 1e-3
    assert [one.at_mm for one in again.missed] == [one.at_mm for one in found.missed]


def test_marks_hold_where_the_way_is_looked_for_on_a_simpler_surface(sample, monkeypatch):
    scan, case, settings, found = sample
    monkeypatch.setattr(piece, "DENSE_FACES", 1000)
    middle = found.slit_mm[len(found.slit_mm) // 2]
    near = np.linalg.norm(case.master.corners.mean(axis=1) - middle, axis=1) < 12
    marks = Marks(near & (scan.source_faces >= 0))
    again = cut_stage(case, marks, settings, Watch())
    assert again.kind == "one slit"
    assert not crosses_marks(case, marks, again.slit_mm)
    assert crosses_marks(case, marks, found.slit_mm)
    crossed, off = nearest(case.master.vertices, case.master.faces, again.slit_mm)
    assert not marks.faces[crossed].any()
    assert off.max() < 0.01


def test_the_stretch_left_over_is_safe_or_said_to_be_too_much(sample):
    *_, found = sample
    codes = {one.code for one in found.warnings}
    assert (found.pull.stretch <= found.allowed_stretch) != ("stretch_too_far" in codes)


def test_webs_are_in_the_holes_through_the_piece_and_under_its_arches(sample):
    scan, case, _, found = sample
    arches = len(found.webs) + found.hairs - scan.through_holes
    assert 0 <= arches < len(case.riser_outline)  # between two feet there may be one


def test_both_halves_are_closed_and_make_up_the_block(sample, monkeypatch):
    _, case, settings, _ = sample
    seen = []

    def prove(block, side):
        seen.append((block, side))
        return prove_halves(block, side)

    monkeypatch.setattr(halfway, "prove_halves", prove)
    found = cut_stage(case, NO_MARKS, replace(settings, way="halves"), Watch())
    assert found.proof.pieces == 2
    ((block, side),) = seen
    volumes = []
    for half in block.split(to_solid(side)):
        mesh = to_mesh(half)
        judge = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
        assert judge.is_watertight
        assert judge.is_winding_consistent
        volumes.append(judge.volume / 1000.0)
    inside = case.bore.area_mm2 * case.level_z_mm / 1000.0
    riser = sum(abs(_area_mm2(one)) for one in case.riser_outline) * case.riser_mm / 1000.0
    piece = abs(trimesh.Trimesh(case.master.vertices, case.master.faces, process=False).volume)
    assert sum(volumes) == pytest.approx(found.proof.block_ml, rel=1e-3)
    assert sum(volumes) == pytest.approx(inside - riser - piece / 1000.0, rel=5e-3)  # but wax


def _area_mm2(outline):
    x, y = outline.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
