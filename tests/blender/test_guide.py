"""From a file to the parts: one next step, samples, presets, pages."""

from __future__ import annotations

import json
import types

import bpy
import pytest

from blender_addon.bridge.samples import SAMPLES, sample_file
from blender_addon.ui import ids
from blender_addon.ui.next_step import next_step
from blender_addon.ui.pages import page_file
from blender_addon.ui.registration import CLASSES
from blender_addon.ui.tour import STOPS

from .conftest import add, mushroom, told_size


def _step():
    return next_step(bpy.context)


def test_the_next_step_leads_from_the_file_to_the_parts(scene, tmp_path):
    assert _step().operator == ids.IMPORT_SCAN
    thing = add("mushroom", mushroom())
    assert _step().operator == ids.IMPORT_SCAN  # the cube of a new file is no piece
    bpy.ops.riseline.work_on(name=thing.name)
    assert _step().operator == ids.LAY_OUT
    bpy.ops.riseline.lay_out()
    for stop in STOPS:
        assert (_step().operator, _step().text) == (ids.NEXT_STOP, stop.text)
        bpy.ops.riseline.next_stop()
    assert _step().operator == ids.EXPORT_PARTS
    scene.riseline.resin.shell_mm = 4.0
    assert (_step().operator, _step().text) == (ids.LAY_OUT, "Update Resin")
    bpy.ops.riseline.lay_out()
    assert _step().operator == ids.EXPORT_PARTS
    folder = tmp_path / "mold"
    bpy.ops.riseline.export_parts(filepath=str(folder))
    assert (_step().operator, _step().told) == (ids.OPEN_PATH, {"filepath": str(folder)})
    bpy.ops.riseline.lay_out(afresh=True)
    assert _step().operator == ids.EXPORT_PARTS  # what is in the folder is the mold of before
    thing.select_set(state=False)
    other = add("other", mushroom())
    assert (_step().operator, _step().told) == (ids.WORK_ON, {"name": "other"})
    bpy.ops.riseline.work_on(name=other.name)
    assert _step().operator == ids.LAY_OUT
    bpy.ops.riseline.work_on(name=thing.name)
    file = str(tmp_path / "mold.blend")
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    assert _step().text == "Lay Out Again to Export"


class _Heard:
    """A layout that only hears which page a question mark opens."""

    def __init__(self):
        self.pages = []

    def row(self, **_how):
        return self

    def label(self, **_how):
        pass

    def separator(self, **_how):
        pass

    def operator(self, name, **_how):
        heard = types.SimpleNamespace(page="")
        if name == ids.OPEN_HELP:
            self.pages.append(heard)
        return heard


@pytest.mark.usefixtures("scene")
def test_the_question_mark_of_each_panel_opens_the_page_of_that_name():
    heads = [one for one in CLASSES if hasattr(one, "draw_header_preset")]
    assert len(heads) == 11
    for panel in heads:
        heard = _Heard()
        drawn = types.SimpleNamespace(layout=heard, bl_idname=panel.bl_idname)
        panel.draw_header_preset(drawn, bpy.context)
        (opened,) = heard.pages
        title = page_file(opened.page).read_text(encoding="utf-8").splitlines()[0]
        assert title == ("# How it goes" if panel.bl_label == "Mold" else f"# {panel.bl_label}")


def test_who_got_into_another_mode_is_led_back_by_the_large_button(scene):
    thing = add("mushroom", mushroom())
    bpy.ops.riseline.work_on(name=thing.name)
    bpy.ops.object.mode_set(mode="EDIT")
    step = _step()
    assert step.text == "Back to Object Mode"
    group, name = step.operator.split(".")
    getattr(getattr(bpy.ops, group), name)(**step.told)
    assert (bpy.context.mode, _step().operator) == ("OBJECT", ids.LAY_OUT)
    assert scene.riseline.piece == thing


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_comes_with_its_settings_and_itstold_size(scene, name):
    assert sample_file(name).is_file()
    bpy.ops.riseline.open_sample(sample=name)
    piece = scene.riseline.piece
    assert piece.name == SAMPLES[name][0]
    size = told_size(scene, piece)
    # the size of the sculpt itself: scanner dust beside it does not count
    known = json.loads(sample_file(name).with_suffix(".expected.json").read_text("utf-8"))
    expected = known["size_mm"]
    for found, number in zip(size.size_mm, expected["value"], strict=True):
        assert found == pytest.approx(number, abs=expected["tolerance"])
    assert _step().operator == ids.LAY_OUT


def test_a_preset_changes_what_depends_on_size_and_leaves_the_materials(scene):
    scene.riseline.rubber.density_kg_m3 = 1250.0
    bpy.ops.riseline.use_preset(preset="large")
    assert scene.riseline.case.least_rubber_mm == pytest.approx(18.0)
    assert scene.riseline.rubber.density_kg_m3 == pytest.approx(1250.0)
    bpy.ops.riseline.use_preset(preset="medium")
    assert scene.riseline.case.least_rubber_mm == pytest.approx(13.0)


def test_a_sample_beside_a_piece_leaves_the_settings_of_that_piece_alone(scene):
    piece = add("mushroom", mushroom())
    bpy.ops.riseline.work_on(name=piece.name)
    scene.riseline.resin.shell_mm, scene.riseline.rubber.spare_percent = 5.0, 17.0
    scene.riseline.scan.height_mm = 44.0
    bpy.ops.riseline.open_sample(sample="hedgehog.ply")
    assert scene.riseline.resin.shell_mm == pytest.approx(4.0)
    assert not scene.riseline.rubber.is_property_set("spare_percent")  # the sample names none
    bpy.ops.riseline.work_on(name=piece.name)
    assert scene.riseline.resin.shell_mm == pytest.approx(5.0)
    assert scene.riseline.rubber.spare_percent == pytest.approx(17.0)
    assert scene.riseline.scan.height_mm == pytest.approx(44.0)


def test_a_refused_file_is_one_line_and_changes_nothing(scene, tmp_path):
    (tmp_path / "bad.stl").write_bytes(b"solid nothing")
    before = len(bpy.data.objects)
    with pytest.raises(RuntimeError, match=r"bad\.stl") as raised:
        bpy.ops.riseline.import_scan(filepath=str(tmp_path / "bad.stl"))
    assert len(str(raised.value).strip().splitlines()) == 1
    assert len(bpy.data.objects) == before
    assert scene.riseline.piece is None
