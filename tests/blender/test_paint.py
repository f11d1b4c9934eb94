"""The maker's paint: on the map at once, kept by the faces of the scan, cleared again."""

from __future__ import annotations

import bpy
import numpy as np
import pytest

from blender_addon.bridge import attributes, names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.outdated import outdated_stages
from blender_addon.bridge.properties import STAGES
from blender_addon.core.bubbles.paint import ADDED, ERASED

from . import snapshot
from .conftest import add, mushroom, own

ADD, TAKE_OFF = bpy.ops.riseline.add_to_map, bpy.ops.riseline.take_off_map
CLEAR = bpy.ops.riseline.clear_paint

WITH_UNDO = ("EXEC_DEFAULT", True)
"""Operators that a script calls push no undo step unless told to."""


@pytest.fixture
def laid_out(scene, scan):
    bpy.ops.riseline.lay_out()
    scan.select_set(state=False)
    return scene


def _paint(scene, operator, chosen, role="brush map"):
    """Select faces of the map in Edit Mode and press a button."""
    thing = own(scene)[role]
    bpy.context.view_layer.objects.active = thing
    _edit(thing, chosen)
    assert operator() == {"FINISHED"}
    assert bpy.context.mode == "EDIT_MESH"
    bpy.ops.object.mode_set(mode="OBJECT")


def _edit(thing, chosen):
    """Go to Edit Mode with some faces selected."""
    bpy.context.tool_settings.mesh_select_mode = (False, False, True)
    thing.data.polygons.foreach_set("select", np.array(chosen))
    bpy.ops.object.mode_set(mode="EDIT")


def _read(scene, name):
    return attributes.read(own(scene)["master"].data, name)


def _slots(scene):
    data = own(scene)["master"].data
    slots = np.zeros(len(data.polygons), dtype=np.int32)
    data.polygons.foreach_get("material_index", slots)
    return np.array(names.CLASSES)[slots]


def _top(scene):
    """Return the faces on top of the cap, which nothing asks to brush."""
    mesh = kept.layout(scene.riseline.results.token).scan.mesh
    top = mesh.corners[:, :, 2].min(axis=1) > mesh.bounds[1][2] - 13.0
    assert top.any()
    return top & ~_read(scene, names.PREBRUSH)


def test_paint_shows_at_once_and_every_run_keeps_it(laid_out):
    top, trapped = _top(laid_out), _read(laid_out, names.TRAPPED)
    _paint(laid_out, ADD, top)
    _paint(laid_out, TAKE_OFF, trapped, role="master")
    for again in (False, True, True):
        if again:
            bpy.ops.riseline.lay_out()
            bubbles = kept.layout(laid_out.riseline.results.token).bubbles
            assert np.array_equal(bubbles.prebrush, _read(laid_out, names.PREBRUSH))
            assert not laid_out.riseline.results.repainted
        else:
            assert laid_out.riseline.results.repainted
        assert _read(laid_out, names.PREBRUSH)[top].all()
        assert not _read(laid_out, names.PREBRUSH)[trapped].any()
        assert set(_slots(laid_out)[top]) == {"Painted"}
        assert set(_slots(laid_out)[trapped]) == {"Plain"}
        assert np.array_equal(_read(laid_out, names.PAINT) == ADDED, top)
        assert np.array_equal(_read(laid_out, names.PAINT) == ERASED, trapped)


def test_a_brush_stroke_puts_the_map_and_the_rubber_out_of_date_and_nothing_else(laid_out):
    before = kept.layout(laid_out.riseline.results.token)
    _paint(laid_out, ADD, _top(laid_out))
    told = outdated_stages(laid_out)
    assert told == ("bubbles", "rubber")
    bpy.ops.riseline.lay_out()
    after = kept.layout(laid_out.riseline.results.token)
    ran = [name for name in STAGES if getattr(after, name) is not getattr(before, name)]
    assert tuple(ran) == told
    assert after.rubber.mix_ml < before.rubber.mix_ml  # more is brushed on beforehand
    assert outdated_stages(laid_out) == ()


def test_equal_paint_runs_no_stage_again_and_new_paint_does(laid_out):
    unpainted = kept.layout(laid_out.riseline.results.token).bubbles
    assert _run(laid_out) is unpainted
    _paint(laid_out, ADD, _top(laid_out))
    painted = _run(laid_out)
    assert painted is not unpainted
    assert painted.prebrush_area_cm2 > unpainted.prebrush_area_cm2
    assert _run(laid_out) is painted


def _run(scene):
    bpy.ops.riseline.lay_out()
    return kept.layout(scene.riseline.results.token).bubbles


def test_cleared_paint_leaves_what_is_computed(laid_out):
    before, slots = _read(laid_out, names.PREBRUSH), _slots(laid_out)
    first = kept.layout(laid_out.riseline.results.token).bubbles
    everything = np.ones(len(before), dtype=bool)
    _paint(laid_out, TAKE_OFF, everything)
    assert not _read(laid_out, names.PREBRUSH).any()
    bpy.ops.riseline.lay_out()
    assert laid_out.riseline.results.bubbles_prebrush_g == 0.0
    _paint(laid_out, CLEAR, everything)
    assert np.array_equal(_read(laid_out, names.PREBRUSH), before)
    assert np.array_equal(_slots(laid_out), slots)
    assert np.array_equal(_run(laid_out).prebrush, first.prebrush)


def test_paint_follows_the_faces_when_the_scan_is_sized_anew(laid_out):
    top = _top(laid_out)
    source = _read(laid_out, names.SOURCE_FACE)[top]
    _paint(laid_out, ADD, top)
    laid_out.riseline.scan.height = 0.080
    bpy.ops.riseline.lay_out()
    painted = _read(laid_out, names.PAINT) == ADDED
    assert np.array_equal(np.sort(_read(laid_out, names.SOURCE_FACE)[painted]), np.sort(source))


def test_painting_never_writes_to_the_scan(laid_out, scan):
    before = snapshot.of_object(scan)
    _paint(laid_out, ADD, _top(laid_out))
    bpy.ops.riseline.lay_out()
    assert snapshot.of_object(scan) == before


def test_paint_does_not_go_over_to_another_scan(laid_out):
    _paint(laid_out, ADD, _top(laid_out))
    bpy.context.view_layer.objects.active.select_set(state=False)
    mesh = mushroom()
    add("another", type(mesh)(mesh.vertices, mesh.faces[::-1]))
    bpy.ops.riseline.lay_out()
    assert laid_out.riseline.results.source == "another"
    assert not _read(laid_out, names.PAINT).any()


def test_one_undo_takes_a_stroke_back(laid_out):
    top = _top(laid_out)
    thing = own(laid_out)["brush map"]
    bpy.context.view_layer.objects.active = thing
    _edit(thing, top)
    bpy.ops.ed.undo_push(message="before")
    assert ADD(*WITH_UNDO) == {"FINISHED"}
    bpy.ops.ed.undo()
    bpy.ops.object.mode_set(mode="OBJECT")
    assert not _read(bpy.context.scene, names.PAINT).any()
    assert "Painted" not in _slots(bpy.context.scene)


def test_a_grey_button_says_where_to_paint(scene, scan):
    with pytest.raises(RuntimeError, match="Lay out the mold first"):
        ADD()
    any_layout = "of before"
    scene.riseline.results.token = any_layout
    with pytest.raises(RuntimeError, match="Select the Brush Map"):
        ADD()
    bpy.context.view_layer.objects.active = scan
    bpy.ops.object.mode_set(mode="EDIT")
    with pytest.raises(RuntimeError, match="Select the Brush Map"):
        TAKE_OFF()
    bpy.ops.object.mode_set(mode="OBJECT")


def test_nothing_selected_is_said(laid_out):
    bpy.context.view_layer.objects.active = own(laid_out)["brush map"]
    bpy.ops.object.mode_set(mode="EDIT")
    bpy.ops.mesh.select_all(action="DESELECT")
    assert ADD() == {"CANCELLED"}
    assert not laid_out.riseline.results.repainted
    bpy.ops.object.mode_set(mode="OBJECT")
