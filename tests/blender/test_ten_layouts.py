"""Every part of ten layouts of real and made scans, judged by libraries that made none of it."""

from __future__ import annotations

import functools
import itertools
from pathlib import Path

import bpy
import manifold3d
import numpy as np
import pytest
import trimesh
from mathutils.bvhtree import BVHTree

from blender_addon.bridge.build import new_mesh
from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.stock import stock_of
from blender_addon.core.files.read import read
from blender_addon.core.files.threemf_write import NamedSolid
from blender_addon.core.files.write import write_3mf
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.parts.stage import parts_stage
from blender_addon.core.rubber.forces import forces_at
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.settings import from_tables, load
from blender_addon.core.watch import Watch
from tests import scans
from tests.core.parts.made import TOUCH_MM3, placed
from tests.judges import solids
from tests.judges.layers import unsupported_mm2

from .exact import overlap_mm3

SAMPLES = Path(__file__).resolve().parents[2] / "sample_scenes"
SMALL_BED = {"bed_x_mm": 150.0, "bed_y_mm": 150.0, "bed_z_mm": 120.0}
TEN = {
    "toadstool, tube": ("toadstool.ply", {}),
    "toadstool, oval": ("toadstool.ply", {"case": {"kind": "printed oval"}}),
    "toadstool, round, small bed": (
        "toadstool.ply", {"case": {"kind": "printed round"}, "parts": SMALL_BED}),
    "hedgehog, contour, small bed": (
        "hedgehog.ply", {"case": {"kind": "printed contour"}, "parts": SMALL_BED}),
    "hedgehog, clips and cord": (
        "hedgehog.ply",
        {"case": {"kind": "printed round"}, "parts": {"closing": "clips", "seam": "cord"}}),
    "watering can, tube": ("watering_can.stl", {}),
    "watering can, contour": (
        "watering_can.stl", {"case": {"kind": "printed contour"}, "parts": {"seam": "plain"}}),
    "bunny, oval": (
        "bunny", {"scan": {"height_mm": 120.0, "up": "+y"}, "case": {"kind": "printed oval"}}),
    "dragon, contour, small bed": (
        "dragon",
        {"scan": {"height_mm": 90.0, "up": "+y"}, "case": {"kind": "printed contour"},
         "parts": SMALL_BED}),
    "bust, round": (
        "bust", {"scan": {"height_mm": 140.0}, "case": {"kind": "printed round"}}),
}  # fmt: skip
"""Scan and settings by name: three samples, three open scans; tubes, round, oval, contour."""


@functools.cache
def scanned(source, given):
    """Return a scan upright and closed; what was given is text, so that it can be remembered."""
    wanted = dict(given)
    if source in {"bunny", "dragon", "bust"}:
        return scan_stage(getattr(scans, source)(), from_tables({"scan": wanted}).scan, Watch())
    settings = load(SAMPLES / f"{Path(source).stem}.toml")
    return scan_stage(read(SAMPLES / source), settings.scan, Watch())


@functools.cache
def laid_out(name):
    """Return case, funnel and parts of one of the ten."""
    source, tables = TEN[name]
    settings = from_tables(tables)
    scan = scanned(source, tuple(tables.get("scan", {}).items()))
    case = case_stage(scan, stock_of(settings.case), settings.case, Watch())
    funnel = funnel_stage(case, settings.funnel, Watch())
    forces = forces_at(case.bore, case.level_z_mm, scan.volume_ml, 1200.0)
    return case, funnel, parts_stage(case, funnel, forces, settings.parts, Watch()).parts


@pytest.fixture(scope="module", params=list(TEN))
def laid(request):
    return laid_out(request.param)


def crossing(vertices, faces):
    """Return how many triangles run through others that they have no corner with, by Blender."""
    faces = [tuple(face) for face in np.asarray(faces).tolist()]
    tree = BVHTree.FromPolygons(np.asarray(vertices).tolist(), faces, all_triangles=True)
    return sum(not set(faces[a]) & set(faces[b]) for a, b in tree.overlap(tree))


def test_ten_layouts_of_six_scans_in_all_four_kinds_of_case():
    assert len(TEN) == 10
    assert len({source for source, _ in TEN.values()}) == 6
    kinds = {laid_out(name)[0].kind for name in TEN}
    assert kinds == {"stock tube", "printed round", "printed oval", "printed contour"}


SHARP = ("hedgehog, contour, small bed", "watering can, contour", "dragon, contour, small bed")
"""Cases that follow the piece: their seams meet the wall at all angles."""


@pytest.mark.parametrize("name", SHARP)
def test_no_layer_of_a_part_begins_in_the_air(name):
    for part in laid_out(name)[2]:
        assert unsupported_mm2(to_solid(part.mesh)) < 0.01, part.name


def test_every_part_is_closed_and_crosses_itself_nowhere(laid, tmp_path):
    _, _, parts = laid
    for part in parts:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight, part.name
        assert judge.is_winding_consistent, part.name
        assert judge.body_count == 1, part.name
        assert to_solid(part.mesh).status() == manifold3d.Error.NoError, part.name
        assert crossing(part.mesh.vertices, part.mesh.faces) == 0, part.name
        assert part.overhang.prints_without_supports, part.name
    named = [NamedSolid(part.name, part.mesh, part.to_assembly) for part in parts]
    write_3mf(tmp_path / "parts.3mf", named)
    unit, seen = solids.by_lib3mf(tmp_path / "parts.3mf")  # raises where one is not manifold
    assert unit == "MilliMeter"
    for one, part in zip(seen, parts, strict=True):
        assert one.volume_mm3 / 1000 == pytest.approx(part.volume_ml, rel=1e-5)


def test_the_search_for_crossings_sees_a_wall_pushed_through_the_next():
    part = laid_out("toadstool, tube")[2][-1]
    vertices = np.array(part.mesh.vertices)
    way = vertices[0] - vertices.mean(axis=0)
    vertices[0] -= 5.0 * np.append(way[:2] / np.hypot(*way[:2]), 0.0)  # its wall is 2 mm thick
    assert crossing(vertices, part.mesh.faces) > 0


def test_a_cylinder_of_the_channel_s_diameter_falls_to_the_floor_and_parts_share_no_room(laid):
    case, _, parts = laid
    x, y = case.channel_at_mm
    drop = manifold3d.Manifold.cylinder(1000, case.channel_mm / 2 - 0.01, circular_segments=256)
    drop = drop.translate((x, y, 0.001))
    bodies = [placed(part) for part in parts]
    assert all((drop ^ one).volume() < 0.01 for one in (to_solid(case.master), *bodies))
    for one, other in itertools.combinations([to_solid(case.master), *bodies], 2):
        assert (one ^ other).volume() < TOUCH_MM3


def _near(one, other):
    (low, high), (other_low, other_high) = one.bounds, other.bounds
    return (low <= other_high).all() and (other_low <= high).all()


@pytest.mark.once
def test_by_blender_s_exact_boolean_no_two_parts_share_room(laid):
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    placed_parts = []
    for part in laid[2]:
        mesh = part.mesh.moved(part.to_assembly)
        thing = bpy.data.objects.new(part.name, new_mesh(part.name, mesh, 0.001))
        bpy.context.scene.collection.objects.link(thing)
        placed_parts.append((thing, mesh))
    pairs = itertools.combinations(placed_parts, 2)
    near = [(a, b) for (a, one), (b, other) in pairs if _near(one, other)]
    assert len(near) >= 4
    for one, other in near:
        assert abs(overlap_mm3(one, other)) < TOUCH_MM3, (one.name, other.name)
