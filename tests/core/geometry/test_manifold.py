"""The library's solid of a mesh is made once, and let go with the mesh."""

import gc
import weakref

import pytest

from blender_addon.core.errors import UnusableMeshError
from blender_addon.core.geometry import manifold
from blender_addon.core.geometry.manifold import solid_of, to_solid
from blender_addon.core.geometry.mesh import Mesh
from tests import shapes


def test_a_solid_is_made_once_for_a_mesh_and_is_that_of_the_mesh(monkeypatch):
    one, other = shapes.box((2, 3, 4)), shapes.box((2, 3, 5))
    made = []
    monkeypatch.setattr(manifold, "to_solid", lambda mesh: made.append(mesh) or to_solid(mesh))
    volumes = [solid_of(mesh).volume() for mesh in (one, other, one, other)]
    assert volumes == pytest.approx([24.0, 30.0, 24.0, 30.0])
    assert made == [one, other]


def test_a_mesh_is_let_go_though_its_solid_was_asked_for():
    mesh = shapes.sphere(5, 16)
    solid_of(mesh)
    held = weakref.ref(mesh)
    del mesh
    gc.collect()
    assert held() is None


def test_an_open_mesh_has_no_solid_however_often_it_is_asked_for():
    box = shapes.box((2, 3, 4))
    mesh = Mesh(box.vertices, box.faces[1:])
    for _ in range(2):
        with pytest.raises(UnusableMeshError, match="not one closed manifold"):
            solid_of(mesh)
