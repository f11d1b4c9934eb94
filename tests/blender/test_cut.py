"""The cut in the scene: marks that bar it, its start, its webs, and the plot of the stretch."""

from __future__ import annotations

import io
import json

import bpy
import numpy as np
import pytest

from blender_addon import cli
from blender_addon.bridge import attributes, names, stretching
from blender_addon.bridge.kept import kept
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.geometry.manifold import to_mesh, to_solid
from tests import shapes

from . import snapshot
from .conftest import add, own

MARK, CLEAR = bpy.ops.riseline.mark_not_here, bpy.ops.riseline.clear_not_here
START = bpy.ops.riseline.set_slit_start

WITH_UNDO = ("EXEC_DEFAULT", True)
"""Operators that a script calls push no undo step unless told to."""


@pytest.fixture
def laid_out(scene, scan):
    bpy.ops.riseline.lay_out()
    scan.select_set(state=False)
    return scene


def _layout(scene):
    return kept.layout(scene.riseline.results.token)


def _mark(scene, operator, chosen, *words):
    """Select faces of the map in Edit Mode and press a button."""
    thing = own(scene)["brush map"]
    bpy.context.view_layer.objects.active = thing
    bpy.context.tool_settings.mesh_select_mode = (False, False, True)
    thing.data.polygons.foreach_set("select", np.array(chosen))
    bpy.ops.object.mode_set(mode="EDIT")
    assert operator(*words) == {"FINISHED"}
    assert bpy.context.mode == "EDIT_MESH"
    bpy.ops.object.mode_set(mode="OBJECT")


def _faces_near_slit(layout):
    """Return the faces of the stem within 30 degrees of where the slit starts."""
    middles = layout.case.master.corners.mean(axis=1)
    low, high = layout.case.master.bounds
    off = middles - (low + high) / 2
    x, y = (layout.cut.slit_mm[0] - (low + high) / 2)[:2]
    apart = np.arctan2(off[:, 1], off[:, 0]) - np.arctan2(y, x)
    apart = np.degrees((apart + np.pi) % (2 * np.pi) - np.pi)
    return (np.abs(apart) < 30) & (np.hypot(off[:, 0], off[:, 1]) < 13) & ~layout.scan.base_faces


def _slot(scene):
    data = own(scene)["master"].data
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    data.polygons.foreach_get("material_index", slots)
    return slots, list(data.materials)


def test_marks_show_at_once_bar_the_cut_and_are_kept_through_every_run(laid_out):
    before = _layout(laid_out)
    chosen = _faces_near_slit(before)
    assert chosen.any()
    _mark(laid_out, MARK, chosen)
    slots, materials = _slot(laid_out)
    barred = next(k for k, one in enumerate(materials) if one[names.OWN] == names.BARRED)
    assert np.array_equal(slots == barred, chosen)
    assert outdated_stages(laid_out)[0] == "cut"
    for _ in range(2):
        bpy.ops.riseline.lay_out()
        assert outdated_stages(laid_out) == ()
        data = own(laid_out)["master"].data
        assert np.array_equal(attributes.read(data, names.NOT_HERE), chosen)
    after = _layout(laid_out)
    assert after.bubbles is before.bubbles  # nothing but the cut ran again
    assert after.case is before.case
    start, old = (np.degrees(np.arctan2(*one.cut.slit_mm[0, [1, 0]])) for one in (after, before))
    assert abs((start - old + 180) % 360 - 180) > 29
    _mark(laid_out, CLEAR, np.ones(len(chosen), dtype=bool))
    assert not (_slot(laid_out)[0] == barred).any()
    bpy.ops.riseline.lay_out()
    assert _layout(laid_out).cut.slit_mm == pytest.approx(before.cut.slit_mm)


def test_the_command_line_cuts_the_same_from_what_the_window_writes(laid_out, tmp_path):
    chosen = _faces_near_slit(_layout(laid_out))
    _mark(laid_out, MARK, chosen)
    bpy.ops.riseline.lay_out()
    folder, job = tmp_path / "run", tmp_path / "job"
    assert bpy.ops.riseline.write_command_files(filepath=str(folder)) == {"FINISHED"}
    words = (folder / "command.txt").read_text().split()[3:]
    words = [str(folder / one) if (folder / one).is_file() else one for one in words]
    assert "--no-cut-here" in words
    words[words.index("--out") + 1] = str(job)
    out, err = io.StringIO(), io.StringIO()
    assert cli.main([*words, "--quiet"], stdout=out, stderr=err) == 0, err.getvalue()
    written = json.loads((job / "job.json").read_text(encoding="utf-8"))
    assert np.array(written["cut"]["slit_mm"]) == pytest.approx(
        _layout(laid_out).cut.slit_mm, abs=0.01
    )
    assert written["cut"]["not_here_faces"] == chosen.sum()


def test_marking_never_writes_to_the_scan(laid_out, scan):
    before = snapshot.of_object(scan)
    _mark(laid_out, MARK, _faces_near_slit(_layout(laid_out)))
    bpy.ops.riseline.lay_out()
    assert snapshot.of_object(scan) == before


def test_one_undo_takes_marks_back(laid_out):
    chosen = _faces_near_slit(_layout(laid_out))
    thing = own(laid_out)["brush map"]
    bpy.context.view_layer.objects.active = thing
    thing.data.polygons.foreach_set("select", chosen)
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.ed.undo_push(message="before")
    assert MARK(*WITH_UNDO) == {"FINISHED"}
    bpy.ops.ed.undo()
    bpy.ops.object.mode_set(mode="OBJECT")
    data = own(bpy.context.scene)["master"].data
    assert not attributes.read(data, names.NOT_HERE).any()


def test_marks_all_round_leave_no_cut_and_all_else(laid_out):
    before = _layout(laid_out)
    stem = _layout(laid_out).case.master.corners[:, :, 2]
    ring = (stem.max(axis=1) > 20) & (stem.min(axis=1) < 45)
    _mark(laid_out, MARK, ring)
    laid_out.riseline.cut.way = "slit"
    bpy.ops.riseline.lay_out()
    found, after = laid_out.riseline.results, _layout(laid_out)
    assert found.cut_kind == after.cut.kind == "none"
    (warning,) = (one for one in found.warnings if one.stage == "cut")
    assert "Clear some of the marks" in warning.text
    assert warning.has_place
    assert 0 < warning.at_mm[2] < 45
    assert after.case is before.case
    assert "slit" not in own(laid_out)
    assert (found.cut_pull_word, found.cut_lips_length_mm, len(found.depths)) == ("", 0.0, 0)
    laid_out.riseline.cut.way = "best"
    _mark(laid_out, CLEAR, np.ones(len(ring), dtype=bool))
    bpy.ops.riseline.lay_out()
    assert found.cut_kind == "one slit"
    assert "slit" in own(laid_out)


@pytest.mark.usefixtures("scan")
def test_a_grey_button_says_where_to_mark():
    with pytest.raises(RuntimeError, match="Lay out the mold first"):
        MARK()


def test_the_start_is_locked_where_it_is_and_set_free(laid_out):
    degrees = _layout(laid_out).cut.start_deg
    assert START(where="KEEP") == {"FINISHED"}
    assert laid_out.riseline.cut.start_deg == pytest.approx(degrees, abs=1e-3)
    bpy.ops.riseline.lay_out()
    found = _layout(laid_out).cut.start_deg
    assert abs((found - degrees + 180) % 360 - 180) < 4.1
    assert START(where="FREE") == {"FINISHED"}
    assert laid_out.riseline.cut.start_deg == CutSettings().start_deg == -1.0


def test_the_start_is_taken_from_the_cursor(laid_out):
    master = own(laid_out)["master"]
    layout = _layout(laid_out)
    low, high = layout.case.master.bounds
    beside = ((low + high) / 2 + [40.0, 0.0, 0.0]) / 1000
    laid_out.cursor.location = (
        master.matrix_world @ master.matrix_world.__class__.Translation(beside).to_translation()
    )
    assert START(where="CURSOR") == {"FINISHED"}
    turn = np.degrees(np.arctan2(layout.case.placement[1, 0], layout.case.placement[0, 0]))
    assert laid_out.riseline.cut.start_deg == pytest.approx(-turn % 360, abs=0.1)


def test_both_ways_and_the_pull_are_stored_for_the_panel(laid_out):
    cut, found = _layout(laid_out).cut, laid_out.riseline.results
    assert [one.kind for one in found.cut_ways] == ["one slit", "two halves"]
    for row, way in zip(found.cut_ways, cut.ways, strict=True):
        assert (row.length_mm, row.area_cm2) == pytest.approx((way.length_mm, way.area_cm2))
    assert found.cut_pull_word == cut.pull.word
    assert found.cut_pull_force_n == pytest.approx(cut.pull.force_n)
    assert found.cut_pull_least_n == pytest.approx(cut.pull.least_n)
    assert found.cut_pull_most_n == pytest.approx(cut.pull.most_n)
    assert found.cut_pull_suction_n == pytest.approx(cut.pull.suction_n)
    assert cut.pull.suction_n > 0.0


def test_the_plot_has_the_curve_of_the_cut(laid_out):
    cut = _layout(laid_out).cut
    rows, end_mm = stretching.curve_of(laid_out.riseline)
    assert rows[:, 0].max() == pytest.approx(cut.needed_stretch, abs=1e-3)
    assert end_mm == pytest.approx(cut.slit_mm[:, 2].max(), abs=1e-3)
    assert len(rows) <= stretching.POINTS + 1


def test_a_web_is_an_object_to_cut(scene):
    ring = to_solid(shapes.torus(25, 8, 48)).rotate((90, 0, 0)).translate((0, 0, 45))
    solid = ring + to_solid(shapes.cylinder(15, 20, 48))
    add("jug", to_mesh(solid))
    bpy.ops.riseline.lay_out()
    (web,) = _layout(scene).cut.webs
    thing = own(scene)[names.WEB_ROLE]
    assert len(thing.data.polygons) == len(web.loop_mm)
    scene.riseline.show_cut = False
    assert thing.hide_viewport
    assert own(scene)["slit"].hide_viewport
    (row,) = scene.riseline.results.webs
    assert row.area_cm2 == pytest.approx(web.area_cm2)
    assert tuple(row.at_mm) == pytest.approx(web.at_mm, abs=1e-4)


def test_two_halves_are_chosen_in_the_panel(laid_out):
    laid_out.riseline.cut.way = "halves"
    bpy.ops.riseline.lay_out()
    found = laid_out.riseline.results
    assert found.cut_kind == "two halves"
    assert {one.side for one in found.depths} >= {"left", "right"}
    assert len(own(laid_out)["slit"].data.polygons) == len(_layout(laid_out).cut.ribbon.faces) > 0


def test_a_mark_is_seen_at_once_in_the_view_of_thickness_and_its_colours_come_back(laid_out):
    laid_out.riseline.show_thickness = True
    of_thickness, materials = _slot(laid_out)
    chosen = _faces_near_slit(_layout(laid_out))
    _mark(laid_out, MARK, chosen)
    barred = next(k for k, one in enumerate(materials) if one[names.OWN] == names.BARRED)
    assert np.array_equal(_slot(laid_out)[0] == barred, chosen)
    laid_out.riseline.rubber_level = 30.0  # whatever brings the views up to date
    assert np.array_equal(_slot(laid_out)[0], of_thickness)


def test_a_second_mark_leaves_the_first(laid_out):
    near = _faces_near_slit(_layout(laid_out))
    first, second = near.copy(), near.copy()
    first[np.flatnonzero(near)[::2]] = False
    second[first] = False
    assert first.any()
    assert second.any()
    for chosen in (first, second):
        _mark(laid_out, MARK, chosen)
    data = own(laid_out)["master"].data
    assert np.array_equal(attributes.read(data, names.NOT_HERE), near)
