"""A fresh Blender file with the add-on for each test."""

from __future__ import annotations

import bpy
import pytest

import blender_addon
from blender_addon.bridge import names, user_files
from blender_addon.bridge.preview import preview
from tests import shapes

from .seeded import seed


@pytest.fixture
def scene(tmp_path, monkeypatch):
    """The scene of a new empty file, with the add-on enabled.

    Always unregistered afterwards: an operator that stays keeps Blender 4.5 from ending.
    """
    monkeypatch.setattr(user_files, "folder", lambda: tmp_path / "lists")
    seed(monkeypatch)
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    blender_addon.register()
    stored = bpy.context.scene.riseline
    stored.scan.up = "+z"
    stored.bubbles.lean_limit_deg = 0.0  # the search for leans takes most of the time
    yield bpy.context.scene
    blender_addon.unregister()


def add(name, mesh, units_per_mm=0.001):
    """Put a mesh given in mm into the scene as a selected object."""
    data = bpy.data.meshes.new(name)
    data.from_pydata((mesh.vertices * units_per_mm).tolist(), [], mesh.faces.tolist())
    return add_data(name, data)


def add_data(name, data):
    """Put Blender's data into the scene as the selected, active object."""
    thing = bpy.data.objects.new(name, data)
    bpy.context.scene.collection.objects.link(thing)
    bpy.context.view_layer.objects.active = thing
    thing.select_set(state=True)
    return thing


def told_size(scene, thing):
    """Return what is told of the size of an object before anything runs."""
    return preview.size_of(scene, thing, lambda: None)


def own(scene):
    """Return the add-on's objects by role."""
    return {one[names.OWN]: one for one in scene.objects if names.OWN in one}


def mushroom():
    """Return a garden mushroom, 60 mm high, whose cap holds air under its hollow brim.

    The roof under the brim lies at z = 45 mm, the brim's edge at 40 mm: between the radii of 12 and
    28 mm a ring of air 5 mm high cannot leave.
    """
    profile = [(0, 0), (12, 0), (12, 45), (28, 45), (28, 40), (32, 40), (32, 48), (15, 60), (0, 60)]
    return shapes.turned(profile, segments=48)


TRAPPED_ML = 3.141592653589793 * (28.0**2 - 12.0**2) * 5.0 / 1000.0
"""Closed form of the ring of air under the mushroom's brim."""


@pytest.fixture
def scan(scene):
    """The mushroom as a scan."""
    assert not scene.objects
    thing = add("mushroom", mushroom())
    thing.location = (0.3, 0.2, 0.1)
    bpy.context.view_layer.update()
    return thing
