"""The user's own tubes: edited in the preferences, kept in a file, taken by the layout."""

from __future__ import annotations

from pathlib import Path

import addon_utils
import bpy
import pytest

from blender_addon.bridge import shelf, user_files
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.bridge.properties import read_settings
from blender_addon.core.catalog.tube import Tube
from blender_addon.core.catalog.tubes import tubes

ADDON = "blender_addon"


@pytest.fixture
def own(tmp_path, monkeypatch):
    """The add-on's preferences, of an add-on that was enabled as a user enables it."""
    monkeypatch.setattr(user_files, "folder", lambda: tmp_path / "lists")
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    addon_utils.enable(ADDON, default_set=True)
    yield bpy.context.preferences.addons[ADDON].preferences
    addon_utils.disable(ADDON, default_set=True)


def add_tube(own, name, outer_mm, inner_mm):
    assert bpy.ops.riseline.add_tube() == {"FINISHED"}
    row = own.tubes[-1]
    row.name, row.outer_diameter, row.inner_diameter = name, outer_mm, inner_mm
    return row


def test_a_tube_that_is_typed_in_is_kept_and_taken(own):
    add_tube(own, "drain", 110.0, 103.6)
    assert shelf.kept_tubes() == (Tube("drain", 103.6, 3.2, 103.6),)
    settings = read_settings(bpy.context.scene)
    assert [one.name for one in tubes(settings.case.stock_file)] == ["drain"]


def test_the_list_is_there_again_after_a_restart(own):
    row = add_tube(own, "drain", 110.0, 103.6)
    row.price_per_m, row.length, row.material = 7.5, 1200.0, "PVC"
    addon_utils.disable(ADDON, default_set=True)
    addon_utils.enable(ADDON, default_set=True)
    again = bpy.context.preferences.addons[ADDON].preferences
    (row,) = again.tubes
    assert (row.name, row.price_per_m, row.length_mm, row.material) == ("drain", 7.5, 1200.0, "PVC")
    assert (row.outer_diameter_mm, row.inner_diameter_mm) == pytest.approx((110.0, 103.6))
    row.name = "gutter"  # what is typed after a restart is kept as well
    assert [one.name for one in shelf.kept_tubes()] == ["gutter"]


def test_sizes_may_be_typed_in_inches(own):
    own.inches = True
    row = add_tube(own, "old pipe", 4.5, 4.0)
    assert row.inner_diameter_mm == pytest.approx(101.6)  # 25.4 mm to the inch: NIST SP 811
    own.inches = False
    assert row.inner_diameter == pytest.approx(101.6)


def test_a_row_that_is_no_tube_is_told_and_not_kept(own):
    add_tube(own, "drain", 110.0, 103.6)
    row = add_tube(own, "drain", 100.0, 94.0)
    assert shelf.fault_of(own.tubes, 1) == "Another tube has this name already"
    row.name = ""
    assert shelf.fault_of(own.tubes, 1) == "Give it a name"
    row.name, row.inner_diameter = "thin", 100.0
    assert shelf.fault_of(own.tubes, 1) == "It must be narrower inside than outside"
    row.inner_diameter = 100.0
    row.outer_diameter = 100.0
    assert shelf.fault_of(own.tubes, 1) == "It must be narrower inside than outside"
    row.inner_diameter = 0.0
    assert shelf.fault_of(own.tubes, 1) == "Give its diameters, outside and inside"
    assert [one.name for one in shelf.kept_tubes()] == ["drain"]
    row.inner_diameter = 94.0
    assert shelf.fault_of(own.tubes, 1) == ""
    assert [one.name for one in shelf.kept_tubes()] == ["drain", "thin"]


def test_the_last_tube_gone_common_sizes_are_taken_again(own):
    add_tube(own, "drain", 110.0, 103.6)
    bpy.ops.riseline.remove_tube()
    assert not own.tubes
    assert shelf.kept_tubes() == ()
    assert read_settings(bpy.context.scene).case.stock_file == ""


def test_the_list_goes_to_a_table_and_comes_back(own, tmp_path):
    add_tube(own, "drain", 110.0, 103.6)
    path = tmp_path / "shelf.csv"
    assert bpy.ops.riseline.export_tubes(filepath=str(path)) == {"FINISHED"}
    bpy.ops.riseline.remove_tube()
    assert bpy.ops.riseline.import_tubes(filepath=str(path)) == {"FINISHED"}
    assert [row.name for row in own.tubes] == ["drain"]
    assert [one.name for one in shelf.kept_tubes()] == ["drain"]


def test_a_table_with_a_bad_row_changes_nothing(own, tmp_path):
    add_tube(own, "drain", 110.0, 103.6)
    path = tmp_path / "bad.csv"
    path.write_text("name,outer_diameter_mm,inner_diameter_mm\nold,90,95\n", "utf-8")
    with pytest.raises(RuntimeError, match=r"row 2 \(old\): inside it measures 95 mm"):
        bpy.ops.riseline.import_tubes(filepath=str(path))
    assert [row.name for row in own.tubes] == ["drain"]


def test_a_spoiled_list_is_told_and_stops_nothing(own):
    user_files.write(user_files.TUBES, "name\nold\n")
    shelf.bring_in()
    assert "names no column" in shelf.shelf.trouble
    add_tube(own, "drain", 110.0, 103.6)
    assert shelf.shelf.trouble == ""


def test_another_list_asks_for_another_layout(own):
    results = bpy.context.scene.riseline.results
    results.token = ADDON  # any word: a layout was made
    assert outdated_stages(bpy.context.scene) == ()
    add_tube(own, "drain", 110.0, 103.6)
    assert outdated_stages(bpy.context.scene)[:2] == ("case", "funnel")


def test_without_an_entry_in_the_preferences_the_buttons_say_why(scene):
    assert shelf.own_preferences() is None
    assert not bpy.ops.riseline.add_tube.poll()
    assert not bpy.ops.riseline.remove_tube.poll()
    assert read_settings(scene).case.stock_file == ""


def test_a_removed_tube_is_gone_after_a_restart_and_the_row_before_it_is_chosen(own):
    for name in ("drain", "gutter", "chimney"):
        add_tube(own, name, 110.0, 103.6)
    assert own.tube == 2
    bpy.ops.riseline.remove_tube()
    assert (own.tube, [one.name for one in shelf.kept_tubes()]) == (1, ["drain", "gutter"])
    assert bpy.ops.riseline.remove_tube.poll()


def test_the_lists_lie_in_blenders_folder_for_extensions_or_for_the_user(monkeypatch):
    monkeypatch.setattr(user_files, "PACKAGE", "bl_ext.user_default.riseline")
    of_extension = user_files.folder()
    assert of_extension.parts[-2:] == ("user_default", "riseline")
    monkeypatch.setattr(user_files, "PACKAGE", "riseline")
    config = bpy.utils.user_resource("CONFIG")
    assert user_files.folder() == Path(config) / "riseline"
    assert of_extension != user_files.folder()


def test_a_name_in_any_script_comes_back_as_it_was_typed(own):
    add_tube(own, "труба \N{DIAMETER SIGN} Größe", 110.0, 103.6)
    assert [one.name for one in shelf.kept_tubes()] == ["труба \N{DIAMETER SIGN} Größe"]
