"""The whole job, on a scan that nobody here made."""

from __future__ import annotations

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.bubbles.paint import ERASED, Paint
from blender_addon.core.errors import CancelledError
from blender_addon.core.geometry.manifold import prism, to_solid
from blender_addon.core.memo import Memo
from blender_addon.core.pipeline import STAGES, lay_out
from blender_addon.core.settings import from_tables
from blender_addon.core.watch import Watch
from tests import scans


def settings(**more):
    tables = {"scan": {"height_mm": 150.0}, "bubbles": {"lean_limit_deg": 0.0}}
    return from_tables({**tables, **more})


@pytest.fixture(scope="module")
def job():
    memo = Memo()
    mesh = scans.bunny()
    return mesh, memo, lay_out(mesh, settings(), memo)


def test_every_part_is_one_closed_solid_to_other_libraries(job):
    *_, layout = job
    assert {part.role for part in layout.parts.parts} == {"case", "base", "funnel"}
    assert all(part.fits_bed for part in layout.parts.parts)
    assert all(part.overhang.prints_without_supports for part in layout.parts.parts)
    for part in layout.parts.parts:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight
        assert judge.is_winding_consistent
        assert judge.body_count == 1
        assert judge.volume / 1000.0 == pytest.approx(part.volume_ml, rel=1e-6)
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(np.array(part.mesh.vertices), np.array(part.mesh.faces, np.uint64))
        )
        assert solid.status() == manifold3d.Error.NoError
        assert solid.volume() / 1000.0 == pytest.approx(part.volume_ml, rel=1e-6)


def test_the_rubber_is_what_a_boolean_leaves_of_the_inside_of_the_case(job):
    *_, layout = job
    case = layout.case
    inside = manifold3d.Manifold.cylinder(
        case.level_z_mm, case.inner_diameter_mm / 2.0, circular_segments=2048
    )
    riser = prism(case.riser_outline, 0.0, case.riser_mm)
    left = inside - to_solid(case.master) - riser
    assert layout.rubber.volume_ml == pytest.approx(left.volume() / 1000.0, rel=0.005)


def test_the_master_keeps_its_distance_from_the_case(job):
    *_, layout = job
    case = layout.case
    away = np.hypot(*case.master.vertices[:, :2].T)
    assert case.inner_diameter_mm / 2.0 - away.max() == pytest.approx(
        case.least_rubber_mm, abs=1e-3
    )
    assert case.least_rubber_mm >= layout.settings.case.least_rubber_mm
    assert case.master.vertices[:, 2].min() == pytest.approx(case.riser_mm)
    assert case.level_z_mm == pytest.approx(case.riser_mm + 150.0 + case.cover_mm)
    assert case.height_mm == pytest.approx(case.level_z_mm + layout.settings.case.freeboard_mm)


def test_the_slit_runs_on_the_master_and_its_trace_on_the_block(job):
    *_, layout = job
    corners = layout.case.master.corners
    for point in layout.cut.slit_mm:
        near = corners[np.linalg.norm(corners.mean(axis=1) - point, axis=1) < 8.0]
        touched = trimesh.triangles.closest_point(near, np.tile(point, (len(near), 1)))
        assert np.linalg.norm(touched - point, axis=1).min() < 0.05
    radius = np.hypot(*layout.cut.zigzag_mm[:, :2].T)
    np.testing.assert_allclose(radius, layout.case.inner_diameter_mm / 2.0, atol=0.05)


def test_nothing_runs_again_when_nothing_changed(job):
    mesh, memo, layout = job
    again = lay_out(mesh, settings(), memo)
    for stage in ("scan", "bubbles", "case", "funnel", "cut", "rubber", "resin", "parts"):
        assert getattr(again, stage) is getattr(layout, stage)


def test_only_what_follows_a_changed_setting_runs_again(job):
    mesh, memo, layout = job
    again = lay_out(mesh, settings(rubber={"spare_percent": 20.0}), memo)
    assert again.parts is layout.parts
    assert again.cut is layout.cut
    coat_ml = again.bubbles.prebrush_g / 1.08  # brushed on already
    assert again.rubber.mix_ml == pytest.approx((again.rubber.volume_ml - coat_ml) * 1.2)
    assert again.resin is layout.resin


@pytest.mark.parametrize(
    ("changed", "runs"),
    [
        ({"case": {"least_rubber_mm": 16.0}}, set()),
        ({"cut": {"hardness_shore_a": 10.0}}, set()),
        ({"cut": {"safe_share_percent": 25.0}}, {"split_of"}),
        ({"cut": {"tooth_mm": 9.0}}, {"measured"}),
    ],
)
def test_what_the_cut_asks_of_the_piece_alone_is_not_asked_again(job, changed, runs):
    mesh, memo, _ = job
    lay_out(mesh, settings(), memo)
    ran = set()

    class Told(Memo):
        def __call__(self, label, stage, *inputs, watch):
            def noted(*given):
                ran.add(stage.__name__)
                return stage(*given)

            noted.__qualname__ = stage.__qualname__
            return memo(label, noted, *inputs, watch=watch)

    lay_out(mesh, settings(**changed), Told())
    assert "cut_stage" in ran
    assert ran & {"piece_of", "webs_of", "split_of", "measured"} == runs


def test_a_stroke_of_the_brush_computes_no_air_again_and_less_brushed_is_more_poured(job):
    mesh, memo, _ = job
    layout = lay_out(mesh, settings(), memo)
    marks = np.zeros(len(mesh.faces), dtype=int)
    marks[layout.scan.source_faces[layout.bubbles.prebrush][:5]] = ERASED
    again = lay_out(mesh, settings(), memo, paint=Paint(marks))
    assert again.bubbles.prebrush_area_cm2 < layout.bubbles.prebrush_area_cm2
    assert again.bubbles.clinging is layout.bubbles.clinging
    assert again.bubbles.bodies is layout.bubbles.bodies
    assert again.rubber.closings is layout.rubber.closings
    assert again.rubber.mix_ml > layout.rubber.mix_ml
    for stage in ("scan", "case", "funnel", "cut", "resin", "parts"):
        assert getattr(again, stage) is getattr(layout, stage)


def test_a_layout_reports_its_stages_and_stops_when_asked():
    told = []

    def cancelled():
        return "Case" in told

    watch = Watch(lambda stage, _: told.append(stage), cancelled)
    with pytest.raises(CancelledError):
        lay_out(scans.bunny(), settings(), watch=watch)
    assert list(dict.fromkeys(told)) == list(STAGES[:3])
