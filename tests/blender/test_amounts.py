"""Rubber and resin in the window: answers without a run, own materials and pots, refusals."""

from __future__ import annotations

import math

import bpy
import pytest

from blender_addon.bridge import bench, user_files
from blender_addon.bridge.kept import kept
from blender_addon.bridge.reading import table_of
from blender_addon.core.catalog.materials import rubbers
from blender_addon.core.catalog.pots import Pot
from blender_addon.core.errors import BadSettingError
from blender_addon.core.resin.reading import still_to_fill_ml
from tests import shapes
from tests.blender.conftest import add

PI = math.pi


@pytest.fixture
def bore(scene):
    """A pillar of radius 40, 143.65 mm high: with the riser, a bore 150 mm deep is to be filled."""
    add("pillar", shapes.cylinder(40, 150 - 6.35, 128))
    scene.riseline.resin.shell_mm = 4.0
    bpy.ops.riseline.lay_out()


def found():
    return bpy.context.scene.riseline.results


@pytest.mark.usefixtures("bore")
def test_a_reading_is_answered_at_once_and_runs_no_stage(scene):
    layout = kept.layout(found().token)
    whole = scene.riseline
    whole.stands_short = 0.0254  # an inch, in metres
    # closed form: pi 36^2 25.4 mm3 inside the shell, pi 40^2 25.4 in the bare mold; 1.05 g/ml
    assert found().answer_ml == pytest.approx(103.42, rel=4e-3)
    assert found().answer_a_g + found().answer_b_g == found().answer_g == 109.0
    whole.resin.a_parts, whole.resin.b_parts = 100.0, 45.0
    whole.rubber.a_parts, whole.rubber.b_parts = 10.0, 90.0  # of no concern to the resin
    whole.stands_short = 0.0254
    assert (found().answer_a_g, found().answer_b_g) == (75.0, 34.0)  # 109 g by 100 to 45
    whole.stands_in = "bare"
    assert found().answer_ml == pytest.approx(127.67, rel=4e-3)
    assert kept.layout(found().token) is layout


@pytest.mark.usefixtures("bore")
def test_rubber_that_lacks_a_density_keeps_no_resin_from_being_weighed_and_resin_no_pot(scene):
    whole = scene.riseline
    whole.rubber.mix_by = "volume"
    whole.stands_short = 0.0254
    assert (found().answer_g, found().answer_trouble) == (109.0, "")  # as above
    whole.coat_g = 750.0
    assert found().coat_mm == 8.0
    whole.rubber.mix_by, whole.resin.mix_by = "mass", "volume"
    bpy.ops.riseline.add_pot(name="tall", kind="pressure", across=0.4, deep=0.5, rated_kpa=300.0)
    assert [one.fits for one in found().pots] == ["upright"]
    whole.stands_short = 0.030
    assert "density" in found().answer_trouble
    assert found().answer_g == 0.0


@pytest.mark.usefixtures("bore")
def test_what_is_mixed_for_a_coat_is_answered_at_once_by_its_thickness(scene, tmp_path):
    layout = kept.layout(found().token)
    # closed form: wall and floor of a bore of radius 40, 150 deep, 2 mm thick; 1.05 g/ml
    scene.riseline.coat_g = PI * (40**2 * 150 - 38**2 * 148) / 1e3 * 1.05
    assert found().coat_mm == pytest.approx(2.0, rel=5e-3)
    assert not found().coat_is_thicker
    assert kept.layout(found().token) is layout
    scene.riseline.coat_g = 750.0  # the bore holds 792 g
    assert (found().coat_mm, found().coat_is_thicker) == (8.0, True)
    path = str(tmp_path / "mold.blend")
    bpy.ops.wm.save_as_mainfile(filepath=path)
    bpy.ops.wm.open_mainfile(filepath=path)
    bpy.context.scene.riseline.coat_g = 0.0
    assert (found().coat_mm, found().coat_is_thicker) == (0.0, False)


@pytest.mark.usefixtures("bore")
def test_inches_and_millimetres_give_the_same_grams(scene):
    scene.riseline.stands_short = 0.0254
    metric = found().answer_g, found().answer_a_g, found().answer_b_g
    scene.riseline.stands_short = 0.0
    scene.unit_settings.scale_length = 0.0254  # a scene in inches
    scene.riseline.stands_short = 1.0
    assert (found().answer_g, found().answer_a_g, found().answer_b_g) == metric


@pytest.mark.usefixtures("bore")
def test_a_leaning_mold_is_answered_for_its_own_depth(scene):
    scene.riseline.stands_in = "bare"
    scene.riseline.stands_short = 0.030
    scene.riseline.mold_lean = math.radians(20.0)
    exact = PI * 40**2 * 30.0 / math.cos(math.radians(20.0)) / 1e3  # closed form
    assert found().answer_ml == pytest.approx(exact, rel=5e-3)
    wedge = PI * 40**3 * math.tan(math.radians(20.0)) / 1e3
    assert found().answer_wedge_ml == pytest.approx(wedge, rel=5e-3)
    scene.riseline.mold_lean = 0.0
    assert found().answer_wedge_ml == 0.0


def test_the_hour_is_the_side_whose_rim_is_lowest(scene):
    # a slab 100 by 30: leaning along its length leaves a larger wedge than across it
    add("slab", shapes.box((100, 30, 60)))
    bpy.ops.riseline.lay_out()
    scene.riseline.stands_in = "bare"
    scene.riseline.mold_lean = math.radians(10.0)
    wedges = {}
    for hour in (12, 3, 6, 9):
        scene.riseline.mold_lean_hour = hour
        wedges[hour] = found().answer_wedge_ml
    tan = math.tan(math.radians(10.0))
    assert sorted(wedges.values()) == pytest.approx(
        sorted([100 * 30 * 15 * tan / 1e3] * 2 + [100 * 30 * 50 * tan / 1e3] * 2), rel=1e-3
    )
    assert wedges[12] == pytest.approx(wedges[6], rel=1e-3)


def test_leaning_towards_a_tower_leaves_it_deepest(scene):
    # a tower at one end of a slab, seen from above: leaning to its side, its tip lies far below the
    # lowest rim; leaning away from it, the slope takes up most of its height
    add("slab", shapes.joined(shapes.box((100, 30, 20)), shapes.box((15, 30, 45), (85, 0, 19.9))))
    bpy.ops.riseline.lay_out()
    case = kept.layout(found().token).case
    tower = case.master.vertices[case.master.vertices[:, 2] > 50.0][:, :2].mean(axis=0)
    middle = (case.master.bounds[0] + case.master.bounds[1])[:2] / 2
    from_back = math.degrees(math.atan2(*(tower - middle)[::-1])) - 90.0
    scene.riseline.mold_lean = math.radians(15.0)
    deepest = {}
    # hours run counter-clockwise as seen from above the piece: over the upturned mold, clockwise
    towards = round(from_back / 30.0) % 12 or 12
    for hour in (towards, (towards + 5) % 12 + 1):
        scene.riseline.mold_lean_hour = hour
        deepest[hour] = table_of(scene.riseline, "bare")[-1, 0]
    assert deepest[towards] == pytest.approx(71.25 * math.cos(math.radians(15.0)), abs=5.0)
    assert min(deepest.values()) < deepest[towards] - 15.0


@pytest.mark.usefixtures("bore")
def test_the_answer_survives_a_saved_file_without_its_layout(scene, tmp_path):
    scene.riseline.stands_short = 0.0254
    grams = found().answer_g
    bpy.ops.wm.save_as_mainfile(filepath=str(tmp_path / "a.blend"))
    bpy.ops.wm.open_mainfile(filepath=str(tmp_path / "a.blend"))
    whole = bpy.context.scene.riseline
    whole.stands_short = 0.050
    assert found().answer_g > grams
    whole.stands_short = 0.0254
    assert found().answer_g == grams
    whole.mold_lean = 0.2
    assert "Lay out again" in found().answer_trouble
    assert (found().answer_g, found().answer_ml) == (0.0, 0.0)  # nobody mixes by the answer before


@pytest.mark.usefixtures("bore")
def test_what_the_panels_show_is_what_core_found():
    layout = kept.layout(found().token)
    rubber, resin = layout.rubber, layout.resin
    assert sum(one.a_g + one.b_g for one in found().batches) == pytest.approx(rubber.mass_g)
    assert found().rubber_budget_fits == rubber.budget.fits
    assert found().rubber_block_lift_g == pytest.approx(rubber.block.lift_g, rel=1e-6)
    assert [one.a_g for one in found().fills] == [one.a_g for one in resin.fills]
    assert len(found().coats) == len(resin.coats)
    assert [one.name for one in found().shrinks] == ["clay", "resin copy"]
    assert found().rubber_cost == 0.0
    table = resin.cavity_table
    assert found().answer_ml == pytest.approx(still_to_fill_ml(table, 25.0), rel=1e-5)


def test_a_picked_rubber_fills_in_its_values_for_rubber_cut_and_brush(scene):
    soft = rubbers()[0]
    bpy.ops.riseline.pick_rubber(material=soft.material)
    stored = scene.riseline
    assert stored.rubber.density_kg_m3 == pytest.approx(soft.density_kg_m3)
    assert stored.rubber.material == soft.material
    assert stored.cut.elongation_percent == pytest.approx(soft.elongation_percent)
    assert stored.cut.hardness_shore_a == pytest.approx(soft.hardness_shore_a)
    assert stored.bubbles.coat_density_kg_m3 == pytest.approx(soft.density_kg_m3)


def test_own_materials_are_kept_for_another_file_and_forgotten_when_asked(scene):
    scene.riseline.rubber.density_kg_m3 = 1234.0
    scene.riseline.rubber.price_per_kg = 29.5
    scene.riseline.cut.hardness_shore_a = 33.0
    bpy.ops.riseline.keep_material(kind="resin", name="grey can")
    bpy.ops.riseline.keep_material(kind="rubber", name="blue can")
    assert scene.riseline.rubber.material == "blue can"
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    stored = bpy.context.scene.riseline
    bpy.ops.riseline.pick_rubber(material="blue can")
    assert stored.rubber.density_kg_m3 == pytest.approx(1234.0)
    assert stored.rubber.price_per_kg == pytest.approx(29.5)
    assert stored.cut.hardness_shore_a == pytest.approx(33.0)
    bpy.ops.riseline.forget_material(kind="rubber", name="blue can")
    assert bench.own_materials("rubber") == ()
    assert [one.material for one in bench.own_materials("resin")] == ["grey can"]


def test_materials_go_to_another_shop_and_come_back(scene, tmp_path):
    scene.riseline.rubber.pot_life_min = 77.0
    bpy.ops.riseline.keep_material(kind="rubber", name="slow one")
    path = tmp_path / "given.toml"
    bpy.ops.riseline.export_materials(filepath=str(path))
    bpy.ops.riseline.forget_material(kind="rubber", name="slow one")
    for _ in range(2):  # the same list once more adds nothing
        bpy.ops.riseline.import_materials(filepath=str(path))
    (one,) = bench.own_materials("rubber")
    assert (one.material, one.pot_life_min) == ("slow one", 77.0)
    scene.riseline.rubber.pot_life_min = 66.0
    bpy.ops.riseline.keep_material(kind="rubber", name="slow one")  # in place of the one before
    (one,) = bench.own_materials("rubber")
    assert one.pot_life_min == 66.0


@pytest.mark.usefixtures("scene")
def test_a_bad_list_changes_nothing(tmp_path):
    bpy.ops.riseline.keep_material(kind="rubber", name="slow one")
    path = tmp_path / "bad.toml"
    path.write_text('[[rubber]]\nname = "x"\nb_parts = 0\n', encoding="utf-8")
    with pytest.raises(RuntimeError, match="b_parts: 0 is out of range"):
        bpy.ops.riseline.import_materials(filepath=str(path))
    assert [one.material for one in bench.own_materials("rubber")] == ["slow one"]


@pytest.mark.usefixtures("scene")
@pytest.mark.parametrize("name", ["", "  ", rubbers()[0].material])
@pytest.mark.usefixtures("scene")
def test_a_material_needs_a_name_of_its_own(name):
    with pytest.raises(RuntimeError, match="Setting name"):
        bpy.ops.riseline.keep_material(kind="rubber", name=name)
    assert not user_files.folder().exists()


@pytest.mark.usefixtures("bore")
def test_pots_are_kept_and_show_at_once_whether_the_block_fits():
    bpy.ops.riseline.add_pot(name="tall", kind="pressure", across=0.4, deep=0.5, rated_kpa=300.0)
    bpy.ops.riseline.add_pot(name="tiny", kind="pressure", across=0.1, deep=0.1, rated_kpa=200.0)
    assert [(one.name, one.fits) for one in found().pots] == [("tall", "upright"), ("tiny", "no")]
    assert [one.used_kpa for one in found().pots] == [275.0, 200.0]  # never above the rated limit
    bpy.ops.riseline.lay_out()
    assert [one.name for one in found().pots] == ["tall", "tiny"]
    assert "pot_limit" in {one.code for one in found().warnings}
    bpy.ops.riseline.remove_pot(name="tiny")
    assert [one.name for one in found().pots] == ["tall"]
    # the block is 104 mm across and 186 mm high: as wide as it is high, it would not go in upright
    bpy.ops.riseline.add_pot(name="slim", kind="pressure", across=0.15, deep=0.3, rated_kpa=300.0)
    assert [(one.name, one.fits) for one in found().pots] == [
        ("tall", "upright"),
        ("slim", "upright"),
    ]
    bpy.ops.riseline.add_pot(name="slim", kind="pressure", across=0.15, deep=0.3, rated_kpa=200.0)
    assert [one.rated_kpa for one in bench.own_pots()] == [300.0, 200.0]  # the plate as typed last
    bpy.ops.riseline.remove_pot(name="slim")
    assert bench.own_pots() == (Pot("tall", "pressure", 400.0, 500.0, 300.0),)
    assert [one.name for one in found().pots] == ["tall"]


@pytest.mark.usefixtures("scene")
def test_a_pot_without_a_rated_limit_is_refused():
    with pytest.raises(RuntimeError, match="rated_kpa: 0 is out of range"):
        bpy.ops.riseline.add_pot(name="jar", kind="vacuum", across=0.3, deep=0.3, rated_kpa=0.0)
    assert bench.own_pots() == ()


@pytest.mark.usefixtures("scan")
def test_contradictory_data_are_told_beside_the_field_and_refused(scene):
    assert bench.trouble_of(scene, "rubber") == ""
    scene.riseline.rubber.pot_life_min = 5.0
    told = bench.trouble_of(scene, "rubber")
    assert told.startswith("Pot Life: 5 min is over before the pour")
    assert "mixing and degassing take 8 min" in told
    with pytest.raises(RuntimeError, match="pot_life_min"):
        bpy.ops.riseline.lay_out()
    scene.riseline.rubber.pot_life_min = 30.0
    scene.riseline.rubber.mix_by = "volume"
    assert bench.trouble_of(scene, "rubber").startswith("Density of A: missing")


def test_zero_is_not_taken_by_the_field(scene):
    scene.riseline.rubber.density_kg_m3 = 0.0
    scene.riseline.rubber.b_parts = -1.0
    assert scene.riseline.rubber.density_kg_m3 == 800.0
    assert scene.riseline.rubber.b_parts == pytest.approx(0.1)


def test_a_spoiled_list_is_told_and_the_common_classes_can_still_be_picked(scene):
    user_files.folder().mkdir()
    (user_files.folder() / "materials.toml").write_text("nonsense", encoding="utf-8")
    bpy.ops.riseline.pick_rubber(material=rubbers()[-1].material)
    assert scene.riseline.rubber.material == rubbers()[-1].material
    with pytest.raises(RuntimeError, match="no list can be read"):
        bpy.ops.riseline.keep_material(kind="rubber", name="mine")
    with pytest.raises(BadSettingError):
        bench.as_material(scene, "rubber", "")
