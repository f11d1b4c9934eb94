"""Another case at a click, and a layout that follows its settings."""

from __future__ import annotations

from types import SimpleNamespace

import bpy
import pytest

from blender_addon.bridge.background import Work
from blender_addon.bridge.kept import kept
from blender_addon.ui import live as live_module
from blender_addon.ui.live import Live
from tests import shapes

from .conftest import add


def taken(scene):
    (one,) = [row for row in scene.riseline.results.choices if row.taken]
    return one


@pytest.fixture
def laid_out(scene, scan):
    assert scan.select_get()
    bpy.ops.riseline.lay_out()
    return scene


def test_cases_are_listed_with_what_each_takes_the_least_rubber_first(laid_out):
    rows = laid_out.riseline.results.choices
    assert taken(laid_out).name == laid_out.riseline.results.case_name
    amounts = [row.rubber_ml for row in rows]
    assert amounts == sorted(amounts)
    assert {row.kind for row in rows} == {
        "stock tube", "printed round", "printed oval", "printed contour"}  # fmt: skip
    assert taken(laid_out).mass_g == pytest.approx(laid_out.riseline.results.rubber_mass_g, abs=1)


def test_a_case_that_is_clicked_is_taken_and_stays(laid_out):
    wider = [row for row in laid_out.riseline.results.choices if row.kind == "stock tube"][-1].name
    assert taken(laid_out).name != wider
    bpy.ops.riseline.take_case(kind="stock tube", tube=wider)
    assert taken(laid_out).name == wider
    laid_out.riseline.case.cover_mm = 25.0
    bpy.ops.riseline.lay_out()
    assert taken(laid_out).name == wider
    bpy.ops.riseline.take_case(kind="automatic", tube="")
    assert taken(laid_out).name != wider


@pytest.mark.parametrize("kind", ["printed oval", "printed contour"])
def test_a_printed_case_is_laid_out_to_the_end(laid_out, kind):
    bpy.ops.riseline.take_case(kind=kind, tube=kind)
    assert laid_out.riseline.case.tube == ""
    layout = kept.layout(laid_out.riseline.results.token)
    assert layout.case.kind == kind
    assert {part.role for part in layout.parts.parts} >= {"case", "base", "funnel"}


def test_cost_stands_in_the_list_when_the_rubber_has_a_price(laid_out):
    assert taken(laid_out).cost == 0.0
    laid_out.riseline.rubber.price_per_kg = 30.0
    bpy.ops.riseline.lay_out()
    results = laid_out.riseline.results
    assert taken(laid_out).cost == pytest.approx(results.rubber_cost, rel=1e-5)
    # rubber that is brushed on beforehand is paid too
    assert results.rubber_cost >= 30.0 * results.rubber_mass_g / 1000 - 0.01


def test_what_must_be_held_stands_in_the_panel(laid_out):
    words = [row.text.split(":")[0] for row in laid_out.riseline.results.holds]
    assert words == ["Floor", "Base", "Seams", "Master"]


def test_a_changed_case_setting_is_due_once_it_has_settled(laid_out):
    live = Live()
    assert not live.is_due(bpy.context)
    laid_out.riseline.case.cover_mm = 25.0
    assert not live.is_due(bpy.context)  # it may still be dragged
    laid_out.riseline.case.cover_mm = 26.0
    assert not live.is_due(bpy.context)
    assert live.is_due(bpy.context)
    assert not live.is_due(bpy.context)  # tried once
    bpy.ops.riseline.lay_out()
    assert not live.is_due(bpy.context)


def test_a_change_that_needs_the_air_anew_waits_for_the_button(laid_out):
    live = Live()
    laid_out.riseline.scan.riser_mm = 3.0
    assert not any(live.is_due(bpy.context) for _ in range(3))


def test_who_does_not_want_it_is_left_alone(laid_out):
    live = Live()
    laid_out.riseline.updates_live = False
    laid_out.riseline.case.cover_mm = 25.0
    assert not any(live.is_due(bpy.context) for _ in range(3))


def test_it_waits_while_work_goes_on_and_outside_object_mode(laid_out):
    live = Live()
    laid_out.riseline.case.cover_mm = 25.0
    live.is_due(bpy.context)
    kept.work = Work(lambda _watch: None, {})
    assert not live.is_due(bpy.context)
    kept.end_work()
    bpy.ops.object.mode_set(mode="EDIT")
    assert not live.is_due(bpy.context)
    bpy.ops.object.mode_set(mode="OBJECT")
    assert live.is_due(bpy.context)


def test_another_list_of_tubes_is_tried_though_the_settings_were_tried_before(laid_out):
    live = Live()
    laid_out.riseline.case.cover_mm = 25.0
    assert [live.is_due(bpy.context) for _ in range(3)] == [False, True, False]
    laid_out.riseline.results.restocked = True
    assert [live.is_due(bpy.context) for _ in range(3)] == [False, True, False]


def test_what_follows_by_itself_is_the_piece_at_work_whatever_is_selected(laid_out, scan):
    scan.select_set(state=False)
    add("other", shapes.box((40, 30, 50)))
    laid_out.riseline.case.cover_mm = 25.0
    live = Live()
    for _ in range(2):
        assert live.tick() > 0.0
    found = laid_out.riseline.results
    assert found.source == scan.name
    assert kept.layout(found.token).settings.case.cover_mm == pytest.approx(25.0)


def test_its_timer_runs_in_a_window_until_it_is_stopped(scene, monkeypatch):
    assert scene
    timers = bpy.app.timers
    in_a_window = SimpleNamespace(app=SimpleNamespace(background=False, timers=timers))
    monkeypatch.setattr(live_module, "bpy", in_a_window)
    live = Live()
    live.start()
    assert timers.is_registered(live.timer)
    live.stop()
    assert not timers.is_registered(live.timer)
    live.stop()  # there is nothing to stop any more, and no error
