"""The add-on comes and goes without a trace."""

from __future__ import annotations

import bpy
import pytest

import blender_addon
from blender_addon.bridge import properties
from blender_addon.core.pipeline import STAGES
from blender_addon.ui import registration

SMALL_WORDS = {"to", "off", "on", "at", "from"}


def _ours():
    return sorted(one for one in dir(bpy.types) if one.startswith("RISELINE_"))


def test_it_registers_and_unregisters_twice_and_leaves_nothing():
    before = _ours()
    assert not bpy.types.VIEW3D_MT_object.is_extended()
    for _ in range(2):
        blender_addon.register()
        assert "RISELINE_PT_mold" in _ours()
        assert hasattr(bpy.types.Scene, "riseline")
        assert bpy.types.VIEW3D_MT_object.is_extended()
        blender_addon.unregister()
        assert _ours() == before
        assert not hasattr(bpy.types.Scene, "riseline")
        assert not bpy.types.VIEW3D_MT_object.is_extended()
        assert registration.kept.work is None


def test_a_failure_takes_back_what_was_registered_and_is_raised(monkeypatch):
    before = _ours()

    class NotForBlender:
        pass

    monkeypatch.setattr(registration, "CLASSES", (*registration.CLASSES, NotForBlender))
    with pytest.raises((TypeError, ValueError, RuntimeError), match="register_class"):
        blender_addon.register()
    assert _ours() == before
    assert not hasattr(bpy.types.Scene, "riseline")


def test_progress_knows_the_stages_of_the_pipeline():
    assert tuple(stage.title() for stage in properties.STAGES) == STAGES


@pytest.mark.usefixtures("scene")
def test_every_operator_says_what_it_does_and_ends_without_a_full_stop():
    classes = [one for one in registration.CLASSES if issubclass(one, bpy.types.Operator)]
    assert len(classes) >= 4
    for one in classes:
        assert one.__doc__
        assert not one.__doc__.endswith(".")
        words = [word for word in one.bl_label.split() if word not in SMALL_WORDS]
        assert words == [word.title() for word in words]


@pytest.mark.usefixtures("scene")
def test_the_main_actions_stand_in_a_menu_so_that_search_finds_them():
    assert hasattr(bpy.types, "RISELINE_MT_mold")
    for menu in ("VIEW3D_MT_object", "TOPBAR_MT_file_import", "TOPBAR_MT_file_export"):
        assert getattr(bpy.types, menu).is_extended()
