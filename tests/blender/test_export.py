"""From the scene to a folder of parts."""

from __future__ import annotations

import json

import bpy
import pytest
import trimesh

from blender_addon.core.files.write import write_stl
from tests import shapes

WITH_UNDO = ("EXEC_DEFAULT", True)


@pytest.mark.usefixtures("scan")
def test_the_parts_are_written_and_closed_to_a_reader_that_is_not_ours(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    folder = tmp_path / "mushroom_mold"
    assert bpy.ops.riseline.export_parts(filepath=str(folder)) == {"FINISHED"}
    job = json.loads((folder / "job.json").read_text(encoding="utf-8"))
    assert job["format"] == "riseline-job"
    assert job["bubbles"]["trapped_ml"] == pytest.approx(
        scene.riseline.results.bubbles_trapped_ml, rel=1e-6
    )
    assert len(job["parts"]) == len(scene.riseline.results.parts) > 0
    for part in job["parts"]:
        read = trimesh.load(folder / part["file"], force="mesh")
        read.merge_vertices()
        assert read.is_watertight
        assert read.volume / 1000.0 == pytest.approx(part["volume_ml"], rel=1e-3)


@pytest.mark.usefixtures("scan")
def test_a_folder_that_cannot_be_written_is_one_line_of_report(tmp_path):
    bpy.ops.riseline.lay_out()
    blocked = tmp_path / "a file"
    blocked.write_text("not a folder")
    with pytest.raises(RuntimeError) as raised:
        bpy.ops.riseline.export_parts(filepath=str(blocked / "mold"))
    assert len(str(raised.value).strip().splitlines()) == 1
    assert blocked.read_text() == "not a folder"


@pytest.mark.usefixtures("scan")
def test_after_loading_a_file_the_parts_must_be_laid_out_again(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    trapped = scene.riseline.results.bubbles_trapped_ml
    file = str(tmp_path / "garden.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert bpy.context.scene.riseline.results.bubbles_trapped_ml == trapped
    with pytest.raises(RuntimeError, match="Lay out the mold again"):
        bpy.ops.riseline.export_parts(filepath=str(tmp_path / "mold"))
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}


@pytest.mark.parametrize("ending", ["stl", "ply", "obj"])
def test_a_scan_is_imported_by_what_its_file_is_and_its_numbers_are_scene_units(
    scan, tmp_path, ending
):
    file = str(tmp_path / f"gnome.{ending}")
    exporter = {
        "stl": bpy.ops.wm.stl_export, "ply": bpy.ops.wm.ply_export, "obj": bpy.ops.wm.obj_export,
    }[ending]  # fmt: skip
    exporter(filepath=file)
    assert bpy.ops.riseline.import_scan(filepath=file) == {"FINISHED"}
    found = bpy.context.object
    assert found.name == "gnome"
    assert bpy.context.selected_objects == [found]
    assert len(found.data.polygons) == len(scan.data.loop_triangles)
    assert max(found.dimensions) == pytest.approx(max(scan.dimensions), rel=1e-5)


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize("name", ["gnome.3mf", "GNOME.3MF"])
def test_a_3mf_comes_in_its_true_size(tmp_path, name):
    file = str(tmp_path / name)
    trimesh.creation.box((20.0, 30.0, 40.0)).export(
        file, file_type="3mf"
    )  # 3MF from trimesh is in millimetres
    assert bpy.ops.riseline.import_scan(filepath=file) == {"FINISHED"}
    mm_per_unit = 1000.0 * bpy.context.scene.unit_settings.scale_length
    sizes = sorted(size * mm_per_unit for size in bpy.context.object.dimensions)
    assert sizes == pytest.approx([20.0, 30.0, 40.0], rel=1e-5)


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("notes.txt", b"clay", "Riseline reads STL, PLY, OBJ and 3MF"),
        ("empty.stl", b"", "the file is empty"),
        ("text.stl", b"no scan at all\n" * 20, "no STL"),
        ("cut.ply", b"ply\nformat ascii 1.0\n", "cut.ply"),
    ],
)
def test_a_file_that_is_no_scan_is_refused_in_words(tmp_path, name, content, says):
    (tmp_path / name).write_bytes(content)
    before = len(bpy.data.objects), len(bpy.data.meshes)
    with pytest.raises(RuntimeError, match=says):
        bpy.ops.riseline.import_scan(filepath=str(tmp_path / name))
    assert (len(bpy.data.objects), len(bpy.data.meshes)) == before


def test_an_imported_scan_goes_with_one_undo(scene, tmp_path):
    assert not scene.objects
    file = str(tmp_path / "frog.stl")
    write_stl(file, shapes.box((0.1, 0.1, 0.1)))
    bpy.ops.ed.undo_push(message="before")
    assert bpy.ops.riseline.import_scan(*WITH_UNDO, filepath=file) == {"FINISHED"}
    assert [one.name for one in bpy.context.scene.objects] == ["frog"]
    bpy.ops.ed.undo()
    assert not bpy.context.scene.objects
    bpy.ops.ed.redo()
    assert [one.name for one in bpy.context.scene.objects] == ["frog"]
