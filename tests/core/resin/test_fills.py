"""The copy, the fill table and the stages, against closed forms and another library's slices."""

import manifold3d
import numpy as np
import pytest
import trimesh

from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.resin.copy import copy_of
from blender_addon.core.resin.fills import fill_table
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.amounts import resin_of
from tests.core.scans import bunny, standing

RISER = 6.35


def resin(scan, **settings):
    """Return the resin of a class whose fills may be as deep as the piece."""
    return resin_of(scan, deepest_fill_mm=500.0, **settings)


@pytest.fixture(scope="module")
def rabbit():
    return scan_stage(bunny(150.0), ScanSettings(up="+z"), Watch())


def test_a_box_on_its_riser_is_one_taller_box():
    found = resin(standing(shapes.box((100, 80, 100))), density_kg_m3=1200.0)
    assert found.copy_ml == pytest.approx(100 * 80 * (100 + RISER) / 1e3)
    assert found.copy_g == pytest.approx(1.2 * found.copy_ml)
    assert found.fill_table[0].tolist() == [0.0, 0.0]
    assert found.fill_table[1:-1, 0].tolist() == list(np.arange(5.0, 106.0, 5.0))
    assert found.fill_table[-1] == pytest.approx([106.35, found.copy_ml])
    assert found.fill_table[:, 1] == pytest.approx(8.0 * found.fill_table[:, 0])


def test_an_inch_short_in_an_80_mm_bore_is_128_ml():
    # pi 40^2 25.4 mm3 = 127.67 ml, 134.06 g at 1.05 g/ml, closed form
    table = resin(standing(shapes.cylinder(40, 150 - RISER, 512))).fill_table
    assert np.interp(25.4, *table.T) == pytest.approx(127.67, rel=1e-4)


def test_a_cone_fills_by_the_cube_of_its_depth():
    # rim of radius 40, 120 deep: the last 25.4 mm hold 201.062 (1 - (94.6 / 120)^3) ml, closed form
    table = fill_table(copy_of(standing(shapes.turned([(0, 0), (40, 0), (0, 120)], 512), 0.0)).mesh)
    exact = 201.062 * (1 - (1 - table[:, 0] / 120) ** 3)
    assert table[:, 1] == pytest.approx(exact, rel=1e-4)


def test_a_ball_on_a_point_has_no_riser():
    found = resin(standing(shapes.sphere(50, 192), 0.0, seam_mm=0.0))
    assert found.copy_ml == pytest.approx(523.599, rel=1e-3)  # closed form


def test_a_hole_in_the_base_is_no_part_of_the_riser():
    pipe = shapes.turned([(30, 0), (40, 0), (40, 50), (30, 50)], 256)
    found = resin(standing(pipe))
    exact = np.pi * (40**2 - 30**2) * (50 + RISER) / 1e3
    assert found.copy_ml == pytest.approx(exact, rel=2e-4)


def test_the_copy_of_a_scan_agrees_with_two_other_libraries(rabbit):
    found = resin(rabbit)
    riser_ml = _riser_mm2(rabbit) * RISER / 1e3
    mesh = trimesh.Trimesh(rabbit.mesh.vertices, rabbit.mesh.faces, process=False)
    assert found.copy_ml == pytest.approx(mesh.volume / 1e3 + riser_ml, rel=1e-9)
    solid = to_solid(rabbit.mesh)
    assert found.copy_ml == pytest.approx(solid.volume() / 1e3 + riser_ml, rel=1e-9)


def test_the_fill_table_never_falls_where_a_part_of_the_surface_is_inside_out():
    wrong = shapes.box((20, 20, 30), (50, 0, 40))
    wrong = Mesh(wrong.vertices, wrong.faces[:, ::-1])
    table = fill_table(shapes.joined(shapes.box((20, 20, 100)), wrong))
    at = dict(table.tolist())
    assert (np.diff(table[:, 1]) >= 0).all()
    assert (at[40.0], at[60.0], at[100.0]) == pytest.approx((16.0, 16.0, 28.0))  # 40 - 12 ml


def test_the_fill_table_of_a_scan_agrees_with_slices_of_another_library(rabbit):
    table = resin(rabbit).fill_table
    riser_mm2 = _riser_mm2(rabbit)
    solid = to_solid(rabbit.mesh)
    assert len(table) > 30
    for depth, ml in table:
        _, near = solid.split_by_plane((0.0, 0.0, 1.0), float(depth))
        exact = near.volume() / 1e3 + riser_mm2 * min(depth, RISER) / 1e3
        assert ml == pytest.approx(exact, rel=1e-9, abs=1e-9)


def _riser_mm2(scan):
    lines = [np.array(line) for line in scan.riser_outline]
    return manifold3d.CrossSection(lines, manifold3d.FillRule.Positive).area()


@pytest.mark.parametrize("stage_g", [60.0, 150.0, 400.0, 5000.0])
def test_shell_and_fills_are_the_copy_and_no_fill_is_too_heavy(rabbit, stage_g):
    found = resin(rabbit, stage_g=stage_g)
    assert found.shell_ml + sum(fill.ml for fill in found.fills) == pytest.approx(
        found.copy_ml, rel=1e-12
    )
    assert all(fill.g <= stage_g * (1 + 1e-9) for fill in found.fills)
    cavity_g = sum(fill.g for fill in found.fills)
    assert len(found.fills) == np.ceil(cavity_g / stage_g)  # no more than it takes
    readings = [fill.to_mm_below_rim for fill in found.fills]
    assert readings == sorted(readings, reverse=True)
    assert readings[-1] == 0.0


def test_stages_in_a_bore_reach_equal_heights():
    # cavity of radius 36 and depth 146: half of it reaches 73 mm below the rim, closed form
    found = resin(standing(shapes.cylinder(40, 150 - RISER, 256)), shell_mm=4.0, stage_g=400.0)
    assert [fill.to_mm_below_rim for fill in found.fills] == pytest.approx([73.0, 0.0], abs=0.3)
    assert found.fills[0].ml == pytest.approx(np.pi * 36**2 * 73 / 1e3, rel=2e-3)


def test_stages_in_a_cone_go_by_the_cube_root():
    # cavity: cone with its apex at 120 - 4 / sin(alpha), closed form; 3 equal fills
    cone = shapes.turned([(0, 0), (40, 0), (0, 120)], 256)
    found = resin(standing(cone, 0.0), shell_mm=4.0, stage_g=51.0)
    apex = 120 - 4 / np.sin(np.arctan(40 / 120))
    assert len(found.fills) == 3
    exact = [apex * (1 - (share / 3) ** (1 / 3)) for share in (1, 2, 3)]
    assert [fill.to_mm_below_rim for fill in found.fills] == pytest.approx(exact, abs=0.4)


def test_a_shell_thicker_than_the_piece_casts_it_solid():
    found = resin(standing(shapes.box((10, 40, 60))), shell_mm=6.0, scale_step_g=0.1)
    assert found.fills == ()
    assert found.shell_ml == found.copy_ml
    assert [notice.code for notice in found.warnings] == ["no_cavity"]


@pytest.mark.parametrize("deep_mm", [7.0, 25.0, 60.0])
def test_no_fill_is_deeper_than_allowed_and_there_are_no_more_than_it_takes(rabbit, deep_mm):
    found = resin_of(rabbit, stage_g=5000.0, deepest_fill_mm=deep_mm)
    depths = [fill.deep_mm for fill in found.fills]
    assert max(depths) <= deep_mm * (1 + 1e-6)
    assert len(depths) == np.ceil(sum(depths) / deep_mm - 1e-6)
    assert max(depths) - min(depths) < 0.02 * deep_mm  # evenly
    assert sum(fill.ml for fill in found.fills) + found.shell_ml == pytest.approx(found.copy_ml)


def test_very_small_mixes_still_come_to_an_end(rabbit):
    found = resin_of(rabbit, stage_g=10.0, scale_step_g=0.1, shell_mm=1.0)
    assert len(found.fills) > 30
    assert all(fill.deep_mm >= 0.0 for fill in found.fills)
    assert sum(fill.ml for fill in found.fills) + found.shell_ml == pytest.approx(found.copy_ml)


def test_grams_of_each_fill_are_whole_steps_of_the_scale_and_enough(rabbit):
    found = resin_of(rabbit, scale_step_g=0.5, a_parts=100.0, b_parts=83.0)
    for fill in found.fills:
        assert (2 * fill.a_g) % 1 == (2 * fill.b_g) % 1 == 0
        assert fill.g <= fill.a_g + fill.b_g < fill.g + 0.5
        assert fill.a_g / fill.b_g == pytest.approx(100 / 83, abs=0.03)


def test_a_hollow_copy_is_shell_plug_and_air():
    # bore of radius 36 inside the shell: a plug of 12 mm, the rest of 146 mm stays empty
    bore = standing(shapes.cylinder(40, 150 - RISER, 256))
    found = resin(bore, shell_mm=4.0, inside="hollow", plug_mm=12.0)
    plug_ml = np.pi * 36**2 * 12 / 1e3
    assert sum(fill.ml for fill in found.fills) == pytest.approx(plug_ml, rel=3e-3)
    assert found.opening.plug_ml == pytest.approx(plug_ml, rel=3e-3)
    assert found.hollow_ml == pytest.approx(np.pi * 36**2 * 134 / 1e3, rel=3e-3)
    assert found.needs_g == pytest.approx(1.05 * (found.copy_ml - found.hollow_ml))
    whole = found.shell_ml + found.fills[0].ml + found.hollow_ml
    assert whole == pytest.approx(found.copy_ml, rel=1e-9)


def test_the_opening_inside_the_shell_of_a_bore():
    opening = resin(standing(shapes.cylinder(40, 100, 512)), shell_mm=4.0).opening
    assert opening.area_cm2 == pytest.approx(np.pi * 3.6**2, rel=1e-3)
    assert opening.across_mm == pytest.approx(72.0, rel=1e-3)


def test_the_stop_line_is_the_true_base_and_what_lies_over_it_is_sanded_off():
    found = resin(standing(shapes.box((100, 80, 100))))
    assert found.true_base_mm_below_rim == RISER
    assert found.sanded_ml == pytest.approx(100 * 80 * RISER / 1e3, rel=1e-6)
    assert found.sanded_g == pytest.approx(1.05 * found.sanded_ml)


@pytest.mark.parametrize(("shell_mm", "coats"), [(1.0, 1), (1.5, 1), (3.0, 2), (3.1, 3)])
def test_a_shell_takes_a_mix_for_each_coat(rabbit, shell_mm, coats):
    found = resin(rabbit, shell_mm=shell_mm)
    assert len(found.coats) == coats
    total = sum(coat.g for coat in found.coats)
    assert found.shell_g <= total < found.shell_g + 1.0


def test_no_coat_is_heavier_than_what_is_mixed_at_once(rabbit):
    found = resin(rabbit, shell_mm=3.0, stage_g=20.0)
    assert len(found.coats) > 2
    assert max(coat.g for coat in found.coats) <= 20.0


def test_cost_and_grams_are_of_all_that_is_poured(rabbit):
    found = resin(rabbit, price_per_kg=12.0)
    assert found.needs_g == pytest.approx(found.copy_g)
    assert found.cost == pytest.approx(12.0 * found.copy_g / 1000)
    assert resin(rabbit).cost is None


def test_overlapping_pieces_are_warned_of():
    both = shapes.joined(shapes.box((30, 30, 30)), shapes.box((30, 30, 30), (15, 0, 0)))
    (notice,) = [n for n in resin(standing(both)).warnings if n.code == "overlap"]
    assert "counted wrong" in notice.text


def test_table_and_copy_do_not_change_when_the_piece_is_moved_and_grow_by_the_cube():
    cone = shapes.turned([(0, 0), (40, 0), (20, 60), (0, 60)], 48)
    here = fill_table(copy_of(standing(cone)).mesh)
    moved = cone.with_vertices(cone.vertices + [500, -300, 70])
    assert fill_table(copy_of(standing(moved)).mesh) == pytest.approx(here, abs=1e-9)
    double = copy_of(standing(cone.with_vertices(2 * cone.vertices), 2 * RISER)).mesh
    assert fill_table(double)[-1, 1] == pytest.approx(8 * here[-1, 1])
