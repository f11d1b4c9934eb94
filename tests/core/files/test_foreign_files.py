"""Files that other programs' writers made, read by us and by them."""

from __future__ import annotations

from pathlib import Path

import lib3mf
import meshio
import numpy as np
import plyfile
import pymeshfix
import pytest
import trimesh

from blender_addon.core.files.read import read
from blender_addon.core.geometry.solid import enclosed_volume_ml, open_edges
from tests import shapes

BUNNY = next(Path(pymeshfix.__file__).parent.rglob("StanfordBunny.ply"))


def ball():
    return shapes.sphere(20, 32, center=(50, -10, 5))


def assert_is_ball(mesh):
    assert len(mesh.faces) == len(ball().faces)
    assert len(open_edges(mesh)) == 0
    assert enclosed_volume_ml(mesh) == pytest.approx(enclosed_volume_ml(ball()), rel=1e-5)
    assert np.allclose(mesh.bounds, ball().bounds, atol=1e-4)


@pytest.mark.parametrize(
    ("ending", "options"),
    [("stl", {}), ("stl", {"file_type": "stl_ascii"}), ("ply", {}), ("ply", {"encoding": "ascii"}),
     ("obj", {}), ("obj", {"include_normals": True}), ("3mf", {})],
)  # fmt: skip
def test_what_trimesh_writes_is_read(tmp_path, ending, options):
    mesh = trimesh.Trimesh(ball().vertices, ball().faces, process=False)
    mesh.export(tmp_path / f"ball.{ending}", **options)
    assert_is_ball(read(tmp_path / f"ball.{ending}"))


@pytest.mark.parametrize(
    ("ending", "options"),
    [("stl", {"binary": True}), ("stl", {"binary": False}), ("ply", {"binary": True}),
     ("ply", {"binary": False}), ("obj", {})],
)  # fmt: skip
def test_what_meshio_writes_is_read(tmp_path, ending, options):
    mesh = meshio.Mesh(np.array(ball().vertices), [("triangle", np.array(ball().faces))])
    mesh.write(tmp_path / f"ball.{ending}", **options)
    assert_is_ball(read(tmp_path / f"ball.{ending}"))


@pytest.mark.parametrize("order", ["=", "<", ">"])
@pytest.mark.parametrize("text", [True, False])
def test_what_plyfile_writes_is_read(tmp_path, order, text):
    kind = [("x", "f4"), ("y", "f4"), ("z", "f4"), ("quality", "u1")]
    points = np.array([(*p, 7) for p in ball().vertices.tolist()], dtype=kind)
    faces = np.zeros(len(ball().faces), dtype=[("vertex_index", "i4", 3), ("red", "u1")])
    faces["vertex_index"] = ball().faces
    tables = [
        plyfile.PlyElement.describe(points, "vertex"),
        plyfile.PlyElement.describe(faces, "face"),
    ]
    plyfile.PlyData(tables, text=text, byte_order=order).write(str(tmp_path / "ball.ply"))
    assert_is_ball(read(tmp_path / "ball.ply"))


def test_what_the_consortium_writes_is_read_in_millimetres(tmp_path):
    model = lib3mf.get_wrapper().CreateModel()
    model.SetUnit(lib3mf.ModelUnit.Inch)
    thing = model.AddMeshObject()
    points = [_position(p) for p in (ball().vertices / 25.4).tolist()]
    thing.SetGeometry(points, [_triangle(f) for f in ball().faces.tolist()])
    model.AddBuildItem(thing, lib3mf.get_wrapper().GetIdentityTransform())
    model.QueryWriter("3mf").WriteToFile(str(tmp_path / "ball.3mf"))
    assert_is_ball(read(tmp_path / "ball.3mf"))


def _position(point):
    position = lib3mf.Position()
    position.Coordinates = tuple(point)
    return position


def _triangle(face):
    triangle = lib3mf.Triangle()
    triangle.Indices = tuple(face)
    return triangle


def test_open_scan_is_read_as_trimesh_and_plyfile_read_it():
    mesh = read(BUNNY)
    theirs = trimesh.load_mesh(BUNNY, process=False)
    rows = plyfile.PlyData.read(str(BUNNY))
    assert len(mesh.faces) == len(theirs.faces) == rows["face"].count
    assert np.array_equal(mesh.corners, np.asarray(theirs.vertices)[theirs.faces])
