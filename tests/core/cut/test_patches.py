"""Marks from files: the faces that a patch lies on, and the same layout from them."""

import numpy as np
import pytest
import trimesh

from blender_addon.core.cut.marks import NO_MARKS, Marks
from blender_addon.core.cut.patches import marks_of_patches
from blender_addon.core.errors import UnusableMeshError, UnwritableFolderError
from blender_addon.core.files.read import read
from blender_addon.core.geometry.connect import chosen_faces
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.job_command import write_command_files
from blender_addon.core.pipeline import lay_out
from blender_addon.core.settings import from_tables, load
from tests import shapes

BALL = shapes.sphere(30, 64)


def spot(mesh, at=(0.0, 30.0, 0.0), radius=12.0):
    return np.linalg.norm(mesh.corners.mean(axis=1) - at, axis=1) < radius


@pytest.mark.parametrize("digits", [6, 3])
def test_faces_cut_out_of_the_scan_mark_themselves_and_no_other(digits):
    chosen = spot(BALL)
    patch = chosen_faces(BALL, chosen)
    patch = patch.with_vertices(patch.vertices.round(digits))  # as a text file has it
    found = marks_of_patches(BALL, {"patch": patch}).faces
    assert chosen.any()
    if digits == 6:
        assert np.array_equal(found, chosen)
    else:  # no longer the same faces: those that it covers, and at the most their neighbours
        assert found[chosen].all()
        assert not found[~spot(BALL, radius=12.0 + 3.0)].any()


def test_other_triangles_over_the_scan_mark_what_they_cover():
    coarse = shapes.sphere(30, 32)
    chosen = spot(coarse, radius=15.0)
    found = marks_of_patches(BALL, {"drawn": chosen_faces(coarse, chosen)}).faces
    assert found[spot(BALL, radius=10.0)].all()
    assert not found[~spot(BALL, radius=21.0)].any()


def test_a_patch_smaller_than_a_face_marks_that_face():
    big = shapes.box((100, 100, 100), (-50, -50, 0))
    dot = Mesh([[20.0, 50, 60], [21, 50, 60], [20, 50, 61]], [[0, 1, 2]])
    found = np.flatnonzero(marks_of_patches(big, {"dot": dot}).faces)
    judge = trimesh.Trimesh(big.vertices, big.faces, process=False)
    _, _, face = trimesh.proximity.closest_point_naive(judge, [[20.3, 50.0, 60.3]])
    assert found.tolist() == face.tolist()


def test_several_patches_add_up_and_none_marks_nothing():
    ends = [spot(BALL, (x, 0.0, 0.0)) for x in (-30.0, 30.0)]
    both = marks_of_patches(BALL, {str(k): chosen_faces(BALL, one) for k, one in enumerate(ends)})
    assert np.array_equal(both.faces, ends[0] | ends[1])
    assert marks_of_patches(BALL, {}) is NO_MARKS


def test_a_patch_that_lies_elsewhere_is_refused_with_how_far_off_it_is():
    patch = chosen_faces(BALL, spot(BALL))
    away = patch.with_vertices(patch.vertices + [0.0, 50.0, 0.0])
    with pytest.raises(UnusableMeshError, match=r"^away.ply: .* 4\d(\.\d+)? off, and 1.0"):
        marks_of_patches(BALL, {"away.ply": away})


def test_files_for_the_command_line_lay_out_the_same_cut(tmp_path):
    mesh = shapes.turned([(0, 0), *[(12, z) for z in range(0, 61, 4)], (30, 60), (30, 75), (0, 75)])
    settings = from_tables({
        "scan": {"up": "+z"}, "bubbles": {"lean_limit_deg": 0.0}, "cut": {"least_slit_mm": 45.0},
    })  # fmt: skip
    free = lay_out(mesh, settings)
    back = np.linalg.inv(free.scan.placement) @ np.linalg.inv(free.case.placement)
    start = (back @ np.append(free.cut.slit_mm[len(free.cut.slit_mm) // 2], 1.0))[:3]
    marks = Marks(spot(mesh, start, 9.0))
    wanted = lay_out(mesh, settings, marks=marks)
    assert np.linalg.norm(wanted.cut.slit_mm[-1, :2] - free.cut.slit_mm[-1, :2]) > 1.0
    write_command_files(mesh, marks, settings, tmp_path / "run")
    folder = tmp_path / "run"
    words = (folder / "command.txt").read_text().split()
    assert words[3:] == [
        "layout", "scan.ply", "--settings", "settings.toml", "--no-cut-here", "no_cut_here.ply",
        "--out", "job",
    ]  # fmt: skip
    scan = read(folder / "scan.ply")
    marked = marks_of_patches(scan, {"no_cut_here.ply": read(folder / "no_cut_here.ply")})
    assert marked.faces.sum() == marks.faces.sum()
    again = lay_out(scan, load(folder / "settings.toml"), marks=marked)
    assert again.settings == settings
    assert again.cut.slit_mm == pytest.approx(wanted.cut.slit_mm, abs=1e-6)
    judge = trimesh.load(folder / "no_cut_here.ply", process=False)
    assert len(judge.faces) == marks.faces.sum()


def test_a_folder_that_holds_anything_else_is_left_alone(tmp_path):
    (tmp_path / "letter.txt").write_text("mine")
    with pytest.raises(UnwritableFolderError):
        write_command_files(BALL, NO_MARKS, from_tables({}), tmp_path)
    write_command_files(BALL, NO_MARKS, from_tables({}), tmp_path / "new")
    write_command_files(BALL, NO_MARKS, from_tables({}), tmp_path / "new")  # its own are replaced
    assert not (tmp_path / "new" / "no_cut_here.ply").exists()
