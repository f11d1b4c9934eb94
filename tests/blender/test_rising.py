"""The rubber that rises in the case: how much is poured, and which air it has shut in."""

from __future__ import annotations

import math

import bpy
import numpy as np
import pytest

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.bridge.lengths import shown_length

from . import snapshot
from .conftest import TRAPPED_ML, own


@pytest.fixture
def laid_out(scene, scan):
    assert scan
    bpy.ops.riseline.lay_out()
    return scene


def _airs(scene):
    return [one for one in scene.objects if one.get(names.OWN) == names.AIR_ROLE]


def _volume_ml(thing):
    """Return what a Blender mesh encloses: Gauss's theorem over its triangles."""
    thing.data.calc_loop_triangles()
    corners = np.array(
        [[thing.data.vertices[k].co for k in face.vertices] for face in thing.data.loop_triangles],
        dtype=np.float64,
    )
    return np.linalg.det(corners - corners.mean(axis=(0, 1))).sum() / 6.0 * 1e6


def _set_height(scene, height_mm):
    scene.riseline.rubber_level = 100.0 * height_mm / scene.riseline.results.case_level_z_mm


def test_an_empty_case_shows_no_rubber_and_no_shut_in_air(laid_out):
    rubber = own(laid_out)[names.RUBBER_ROLE]
    assert rubber.hide_viewport
    assert rubber.hide_render
    assert _airs(laid_out)
    assert all(one.hide_viewport for one in _airs(laid_out))
    assert laid_out.riseline.results.shown_poured_ml == 0.0


def test_the_full_case_holds_what_the_rubber_stage_says(laid_out):
    laid_out.riseline.rubber_level = 100.0
    found = laid_out.riseline.results
    assert found.shown_poured_ml == pytest.approx(found.rubber_volume_ml, rel=1e-4)
    bpy.context.view_layer.update()
    rubber = own(laid_out)[names.RUBBER_ROLE]
    assert not rubber.hide_viewport
    assert rubber.dimensions.z * 1000.0 == pytest.approx(found.case_level_z_mm, rel=1e-4)
    assert rubber.dimensions.x * 1000.0 < found.case_inner_diameter_mm


def test_what_is_poured_at_a_height_is_the_bore_less_stem_and_riser(laid_out):
    found = laid_out.riseline.results
    riser_mm = kept.layout(found.token).scan.riser_mm
    height_mm = riser_mm + 30.0
    _set_height(laid_out, height_mm)
    # closed form: the tube, less the mushroom's stem of 48 corners and 12 mm radius on its riser
    bore_mm2 = math.pi * found.case_inner_diameter_mm**2 / 4.0
    stem_mm2 = 48 / 2 * 12.0**2 * math.sin(2.0 * math.pi / 48)
    expected_ml = (bore_mm2 - stem_mm2) * height_mm / 1000.0
    assert found.shown_level_mm == pytest.approx(height_mm, rel=1e-5)
    assert found.shown_poured_ml == pytest.approx(expected_ml, rel=2e-3)
    bpy.context.view_layer.update()
    rubber = own(laid_out)[names.RUBBER_ROLE]
    assert rubber.dimensions.z * 1000.0 == pytest.approx(height_mm, rel=1e-4)
    assert shown_length(laid_out, found.shown_level_mm) == f"{height_mm:.1f} mm"


def test_air_is_shown_as_soon_as_the_rubber_has_shut_it_in(laid_out):
    closes_mm = laid_out.riseline.results.pockets[0].level_z_mm
    (air,) = _airs(laid_out)
    for height_mm, hidden in ((closes_mm - 0.5, True), (closes_mm + 0.5, False)):
        _set_height(laid_out, height_mm)
        assert air.hide_viewport is air.hide_render is hidden
    _set_height(laid_out, closes_mm - 0.5)
    assert air.hide_viewport


def test_the_shut_in_air_hangs_under_the_brim_and_has_its_volume(laid_out):
    (air,) = _airs(laid_out)
    assert _volume_ml(air) == pytest.approx(TRAPPED_ML, rel=0.03)
    case = kept.layout(laid_out.riseline.results.token).case
    corners = np.array(air.bound_box) * 1000.0
    riser_mm = case.riser_mm
    # the ring lies between brim and roof, 40 and 45 mm over the base, and about the stem
    assert corners[:, 2].min() == pytest.approx(riser_mm + 40.0, abs=0.3)
    assert corners[:, 2].max() == pytest.approx(riser_mm + 45.0, abs=0.3)
    assert corners[:, :2].mean(axis=0) == pytest.approx(case.center_mm, abs=0.5)
    master = own(laid_out)[names.MASTER_ROLE]
    assert np.allclose(np.array(air.matrix_world), np.array(master.matrix_world), atol=1e-6)


def test_the_slider_keeps_its_height_through_a_run_and_the_view_follows(laid_out):
    laid_out.riseline.rubber_level = 80.0
    laid_out.riseline.case.cover = 0.040
    bpy.ops.riseline.lay_out()
    found = laid_out.riseline.results
    assert found.shown_level_mm == pytest.approx(0.8 * found.case_level_z_mm, rel=1e-5)
    assert own(laid_out)[names.RUBBER_ROLE].scale.z == pytest.approx(0.8)
    assert not any(one.hide_viewport for one in _airs(laid_out))


def test_without_a_layout_the_slider_touches_nothing(scene):
    before = snapshot.of_file()
    scene.riseline.rubber_level = 50.0
    assert snapshot.of_file() == before
    assert scene.riseline.results.shown_poured_ml == 0.0
