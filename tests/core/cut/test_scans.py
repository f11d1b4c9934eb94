"""The whole stage on a scan and on the samples: proven, clear of marks, far enough from all."""

from pathlib import Path

import numpy as np
import pytest

from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.stock import stock_of
from blender_addon.core.cut.marks import NO_MARKS, Marks, marks_on_master
from blender_addon.core.files.read import read
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.settings import load
from blender_addon.core.watch import Watch
from tests.core.cases import cut_stage
from tests.judges.nearest import nearest

FOLDER = Path(__file__).resolve().parents[3] / "sample_scenes"
FILES = {"toadstool": "ply", "watering_can": "stl", "hedgehog": "ply"}


@pytest.fixture(scope="module", params=sorted(FILES))
def sample(request):
    settings = load(FOLDER / f"{request.param}.toml")
    mesh = read(FOLDER / f"{request.param}.{FILES[request.param]}")
    scan = scan_stage(mesh, settings.scan, Watch())
    case = case_stage(scan, stock_of(settings.case), settings.case, Watch())
    return scan, case, settings.cut, cut_stage(case, NO_MARKS, settings.cut, Watch())


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
    assert again.proof.opens


def test_the_stretch_left_over_is_safe_or_said_to_be_too_much(sample):
    *_, found = sample
    codes = {one.code for one in found.warnings}
    assert (found.pull.stretch <= found.allowed_stretch) != ("stretch_too_far" in codes)


def test_webs_are_in_the_holes_that_were_modelled(sample):
    scan, *_, found = sample
    assert len(found.webs) == scan.through_holes
