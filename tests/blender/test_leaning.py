"""The leaned case: what stands in it tips, the rubber stays level, and its own air stays behind."""

from __future__ import annotations

import math
from types import SimpleNamespace

import bpy
import numpy as np
import pytest
from mathutils import Matrix, Vector

from blender_addon.bridge import names
from blender_addon.bridge.background import Work
from blender_addon.bridge.kept import kept
from blender_addon.bridge.leaning import Lean
from blender_addon.core.bubbles.lean_grid import direction_of
from blender_addon.core.errors import UnusableMeshError
from blender_addon.core.watch import Watch
from blender_addon.ui import lean_icon as icon_module
from blender_addon.ui.lean_icon import lean_icon, pixels_of
from blender_addon.ui.mark import draw_mark
from tests import shapes

from . import snapshot
from .conftest import add, own

LEAN = bpy.ops.riseline.lean_case
WITH_UNDO = ("EXEC_DEFAULT", True)


def _blind_hole():
    """Return a block with a round blind hole that looks to +x, 10 degrees below level."""
    return shapes.tilted(shapes.cup(10.0, 30.0), 80.0)


@pytest.fixture
def laid_out(scene):
    add("blind hole", _blind_hole())
    bpy.ops.riseline.lay_out()
    return scene


@pytest.fixture
def searched(scene):
    scene.riseline.bubbles.lean_limit_deg = 12.0
    add("blind hole", _blind_hole())
    bpy.ops.riseline.lay_out()
    return scene


def _hole_hour(scene):
    """Return the hour that lifts the mouth: away from +x of the scan, in the job frame."""
    placement = kept.layout(scene.riseline.results.token).case.placement
    way = Vector(placement[:2, 0]) * -1.0
    return min(
        range(1, 13),
        key=lambda hour: (
            -math.cos(math.radians(direction_of(hour))) * way.x
            - math.sin(math.radians(direction_of(hour))) * way.y
        ),
    )


def _airs(scene):
    return [one for one in scene.objects if one.get(names.OWN) == names.AIR_ROLE]


def _heights_mm(thing):
    bpy.context.view_layer.update()
    corners = [thing.matrix_world @ vertex.co for vertex in thing.data.vertices]
    return 1000.0 * np.array([corner.z for corner in corners])


def test_the_lean_that_frees_the_hole_leaves_no_air_and_the_other_way_holds_more(laid_out):
    found, hour = laid_out.riseline.results, _hole_hour(laid_out)
    upright_ml = found.bubbles_trapped_ml
    assert found.shown_trapped_ml == pytest.approx(upright_ml)
    assert len(_airs(laid_out)) >= 1
    assert LEAN(lean=math.radians(14.0), hour=hour) == {"FINISHED"}
    assert found.shown_trapped_ml < 0.05
    assert upright_ml > 0.5
    assert LEAN(lean=math.radians(14.0), hour=(hour + 5) % 12 + 1) == {"FINISHED"}
    assert found.shown_trapped_ml > upright_ml
    laid_out.riseline.rubber_level = 100.0
    assert not any(one.hide_viewport for one in _airs(laid_out))


def test_all_that_stands_in_the_case_tips_as_one_and_the_map_stays(laid_out):
    things = own(laid_out)
    before = {role: one.matrix_basis.copy() for role, one in things.items()}
    LEAN(lean=math.radians(20.0), hour=3)
    after = own(laid_out)
    tipped = {"master", "case", "base", "funnel"}
    assert tipped <= set(after)
    turns = [after[role].matrix_basis @ before[role].inverted() for role in tipped]
    for turn in turns:
        assert np.allclose(np.array(turn), np.array(turns[0]), atol=1e-6)
    up = turns[0].to_3x3() @ Vector((0.0, 0.0, 1.0))
    # 20 degrees to 3 o'clock: the top goes towards +x of the job frame
    assert up.x == pytest.approx(math.sin(math.radians(20.0)), abs=1e-6)
    assert up.y == pytest.approx(0.0, abs=1e-6)
    assert np.allclose(np.array(after["brush map"].matrix_basis), np.array(before["brush map"]))


def test_the_rubber_rises_level_in_the_leaned_case_and_tells_what_is_left(laid_out):
    LEAN(lean=math.radians(20.0), hour=3)
    found = laid_out.riseline.results
    told = []
    for level in (30.0, 60.0, 100.0):
        laid_out.riseline.rubber_level = level
        heights = _heights_mm(own(laid_out)["rubber"])
        floor = own(laid_out)["rubber"].matrix_basis.translation.z * 1000.0
        assert heights.max() - floor == pytest.approx(found.shown_level_mm, abs=1e-3)
        flat = np.isclose(heights, heights.max(), atol=1e-3)
        assert np.count_nonzero(flat) > 8  # its surface is level to the world
        told.append(found.shown_poured_ml)
    assert 0.0 < told[0] < told[1] < told[2] <= found.rubber_volume_ml * 1.001
    laid_out.riseline.rubber_level = 0.0
    assert own(laid_out)["rubber"].hide_viewport


def test_upright_again_is_as_it_was(laid_out):
    laid_out.riseline.rubber_level = 70.0
    found = laid_out.riseline.results
    before = (found.shown_level_mm, found.shown_poured_ml, found.shown_trapped_ml)
    places = {role: np.array(one.matrix_basis) for role, one in own(laid_out).items()}
    LEAN(lean=math.radians(25.0), hour=7)
    LEAN(lean=math.radians(11.0), hour=2)
    LEAN(lean=0.0, hour=5)
    assert (found.shown_level_mm, found.shown_poured_ml, found.shown_trapped_ml) == before
    for role, one in own(laid_out).items():
        assert np.allclose(np.array(one.matrix_basis), places[role], atol=1e-6)


def test_a_click_in_the_list_leans_the_case_so_and_the_map_is_lightest_there(searched):
    found = searched.riseline.results
    found.lean_row = 0
    row = found.leans[0]
    assert (found.shown_lean_deg, found.shown_lean_hour) == (pytest.approx(row.degrees), row.hour)
    assert found.shown_towards_deg == pytest.approx(row.towards_deg)
    # the list was made on a coarser surface: about the same air
    assert found.shown_trapped_ml == pytest.approx(row.trapped_ml, abs=0.2)
    pixels, way = pixels_of(found), math.radians(row.towards_deg)
    x, y = (128 + int(80 * part(way)) for part in (math.cos, math.sin))
    light = pixels[:, :, :3].mean(axis=2)
    assert light[y, x] == light[pixels[:, :, 3] > 0.0].max()
    assert light[128 - (y - 128), 128 - (x - 128)] < light[y, x] - 0.1


def test_a_lean_stays_through_a_run(laid_out):
    LEAN(lean=math.radians(14.0), hour=_hole_hour(laid_out))
    laid_out.riseline.case.cover = 0.040
    bpy.ops.riseline.lay_out()
    found = laid_out.riseline.results
    assert found.shown_lean_deg == pytest.approx(14.0)
    assert found.shown_trapped_ml < 0.05
    up = own(laid_out)["master"].matrix_basis.to_3x3() @ Vector((0.0, 0.0, 1.0))
    assert up.z == pytest.approx(math.cos(math.radians(14.0)), abs=1e-6)


def test_what_was_moved_by_hand_keeps_its_place_beside_the_master(laid_out):
    funnel = own(laid_out)["funnel"]
    funnel.location.x += 0.3
    bpy.context.view_layer.update()
    LEAN(lean=math.radians(20.0), hour=3)
    LEAN(lean=0.0, hour=12)
    apart = own(laid_out)["funnel"].location - own(laid_out)["master"].location
    assert apart.x == pytest.approx(0.3, abs=1e-6)


@pytest.mark.usefixtures("laid_out")
def test_one_undo_takes_a_lean_back():
    bpy.ops.ed.undo_push(message="before")
    assert LEAN(*WITH_UNDO, lean=math.radians(20.0), hour=3) == {"FINISHED"}
    bpy.ops.ed.undo()
    scene = bpy.context.scene
    assert scene.riseline.results.shown_lean_deg == 0.0
    assert own(scene)["master"].matrix_basis.to_3x3() == Matrix.Identity(3)


def test_leaning_never_touches_the_scan(laid_out):
    scan = laid_out.objects["blind hole"]
    before = snapshot.of_object(scan)
    LEAN(lean=math.radians(20.0), hour=3)
    assert snapshot.of_object(scan) == before


def test_without_its_master_it_says_what_to_do(laid_out):
    bpy.data.objects.remove(own(laid_out)["master"])
    with pytest.raises(RuntimeError, match="Lay out the mold again"):
        LEAN(lean=math.radians(20.0), hour=3)


def test_without_a_layout_the_button_says_why(scene):
    assert scene
    with pytest.raises(RuntimeError, match="Lay out the mold first"):
        LEAN(lean=math.radians(20.0), hour=3)


def test_parts_on_the_print_bed_never_tip(laid_out):
    laid_out.riseline.parts_lie = names.ON_BEDS
    before = np.array(own(laid_out)["funnel"].matrix_basis)
    LEAN(lean=math.radians(20.0), hour=3)
    assert np.allclose(np.array(own(laid_out)["funnel"].matrix_basis), before)
    laid_out.riseline.parts_lie = "assembled"
    master = own(laid_out)["master"].matrix_basis
    assert np.allclose(np.array(own(laid_out)["funnel"].matrix_basis), np.array(master))
    laid_out.riseline.parts_lie = names.ON_BEDS  # the beds lie level though the case leans
    up = own(laid_out)["print bed"].matrix_basis.to_3x3() @ Vector((0.0, 0.0, 1.0))
    assert up.z == pytest.approx(1.0, abs=1e-6)
    assert np.allclose(np.array(own(laid_out)["funnel"].matrix_basis), before, atol=1e-6)


def test_the_map_of_leans_is_made_anew_for_each_layout_and_once_for_it(scene, monkeypatch):
    found, made = scene.riseline.results, []
    monkeypatch.setattr(
        icon_module, "pixels_of", lambda of: made.append(of.token) or np.zeros((256, 256, 4))
    )
    for token in ("first", "first", "second", "first"):
        found.token = token
        lean_icon.number_of(found)
    assert made == ["first", "second", "first"]


def test_a_place_that_was_marked_in_another_layout_is_marked_no_more(scene):
    scene.riseline.results.token = "second"  # noqa: S105 - no password
    kept.mark = ("first", Vector())
    assert draw_mark(SimpleNamespace(scene=scene), 1.0) is None  # it did not even look for a view
    kept.mark = ("second", Vector())
    with pytest.raises(AttributeError, match="region"):
        draw_mark(SimpleNamespace(scene=scene), 1.0)


def test_a_click_on_a_lean_while_work_goes_on_changes_nothing(scene):
    found = scene.riseline.results
    found.token = "hand"  # noqa: S105 - no password
    row = found.leans.add()
    row.degrees, row.hour = 9.0, 4
    before = scene.riseline.lean, scene.riseline.lean_hour
    kept.work = Work(lambda _watch: None, {})
    found.lean_row = 0
    assert (scene.riseline.lean, scene.riseline.lean_hour) == before
    kept.end_work()
    found.lean_row = 0
    assert (math.degrees(scene.riseline.lean), scene.riseline.lean_hour) == (pytest.approx(9.0), 4)


def test_a_pour_into_an_earlier_layout_is_not_shown_in_the_one_that_took_its_place(laid_out):
    lean = Lean(laid_out, 20.0, 0.0)
    pour = lean.run(Watch())
    laid_out.riseline.results.token = "another"  # noqa: S105 - no password
    before = snapshot.of_file()
    with pytest.raises(UnusableMeshError, match="Lay out the mold again"):
        lean.bring_back(pour)
    assert snapshot.of_file() == before
