"""Case and parts that are shown before the rest of a run is done, and taken back if it never is."""

from __future__ import annotations

import math

import bpy
import numpy as np
import pytest

from blender_addon.bridge import names
from blender_addon.bridge.job import Job
from blender_addon.bridge.kept import kept
from blender_addon.core.errors import CancelledError, UnusableMeshError
from blender_addon.core.watch import Watch

from . import snapshot
from .conftest import own


def _corners_mm(thing):
    corners = np.zeros((len(thing.data.vertices), 3), dtype=np.float32)
    thing.data.vertices.foreach_get("co", corners.reshape(-1))
    world = np.array(thing.matrix_basis)
    return (corners @ world[:3, :3].T + world[:3, 3]) * 1000.0


def _seen():
    """Return everything of a scene that a person may look at."""
    bpy.context.view_layer.update()
    return snapshot.of_file()


@pytest.fixture
def job(scene, scan):
    """Return a job with more rubber over and round a piece that was laid out with less."""
    scene.riseline.bubbles.pitch_mm = 4.0
    bpy.ops.riseline.lay_out()
    scene.riseline.case.cover_mm = 35.0
    scene.riseline.case.least_rubber_mm = 25.0
    return Job(bpy.context, scan)


def _run_till_parts(job):
    """Run until case and parts are there, then stop as Esc does; return both."""
    made = []
    with pytest.raises(CancelledError):
        job.run(Watch(cancelled=lambda: bool(made), show=lambda *found: made.append(found)))
    return made[0]


@pytest.mark.parametrize("lie", ["assembled", names.ON_BEDS])
@pytest.mark.parametrize("lean_deg", [0.0, 20.0])
def test_what_is_shown_ahead_is_taken_back_to_the_last_bit(scene, scan, job, lie, lean_deg):
    scene.riseline.parts_lie = lie
    if lean_deg:
        bpy.ops.riseline.lean_case(lean=math.radians(lean_deg), hour=3)
    before = _seen()
    job.show_ahead(*_run_till_parts(job))
    assert _seen()["meshes"] != before["meshes"]
    assert job.is_ahead
    job.take_back()
    assert not job.is_ahead
    after = _seen()
    assert after == before
    assert scan.name in after["meshes"]


def test_what_is_shown_ahead_is_what_stands_there_in_the_end(scene, job):
    job.show_ahead(*_run_till_parts(job))
    early = {role: _corners_mm(thing) for role, thing in own(scene).items()}
    job.bring_back(job.run(Watch()))
    late = {role: _corners_mm(thing) for role, thing in own(scene).items()}
    shift = late["base"].mean(axis=0) - early["base"].mean(axis=0)
    assert {"case", "base", "funnel", "stream", "master", "slit"} <= set(early)
    for role in ("case", "base", "funnel", "stream", "master"):
        np.testing.assert_allclose(early[role] + shift, late[role], atol=0.01, err_msg=role)


def test_after_undo_of_what_came_before_nothing_is_taken_back(scene, job):
    made = _run_till_parts(job)
    job.show_ahead(*made)
    scene.riseline.results.token = "another"  # noqa: S105 - no password
    before = _seen()
    job.take_back()
    assert _seen() == before


@pytest.mark.usefixtures("scene")
def test_without_a_layout_nothing_is_shown_ahead(job):
    made = _run_till_parts(job)
    kept.forget()
    before = _seen()
    job.show_ahead(*made)
    job.take_back()
    assert _seen() == before


def test_of_a_piece_that_is_another_shape_nothing_is_shown_ahead(scene, scan):
    bpy.ops.riseline.lay_out()
    scene.riseline.scan.riser_mm = 12.0
    other = Job(bpy.context, scan)
    made, before = _run_till_parts(other), _seen()
    other.show_ahead(*made)
    assert _seen() == before


def test_what_was_moved_by_hand_meanwhile_stays_where_it_was_put(scene, job):
    job.show_ahead(*_run_till_parts(job))
    master = own(scene)["master"]
    master.location.x += 0.5
    moved = np.array(master.matrix_basis)
    job.take_back()
    assert np.array_equal(np.array(master.matrix_basis), moved)


def test_while_another_piece_is_at_work_nothing_is_shown_ahead_in_its_layout(scene, scan, job):
    made = _run_till_parts(job)
    other = scan.copy()  # of the same shape: by that alone they are not told apart
    scene.collection.objects.link(other)
    bpy.ops.riseline.work_on(name=other.name)
    bpy.ops.riseline.lay_out()
    assert scene.riseline.piece == other
    before = _seen()
    job.show_ahead(*made)
    assert not job.is_ahead
    assert _seen() == before
    bpy.ops.riseline.work_on(name=scan.name)
    job.show_ahead(*made)
    assert job.is_ahead
    assert scene.riseline.piece == scan


def test_of_a_scan_that_was_deleted_meanwhile_nothing_comes_into_the_scene(scan, job):
    laid = job.run(Watch())
    bpy.data.objects.remove(scan)
    before = _seen()
    with pytest.raises(UnusableMeshError, match="removed meanwhile"):
        job.bring_back(laid)
    assert _seen() == before
