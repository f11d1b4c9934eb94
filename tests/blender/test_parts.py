"""The parts in the scene: assembled, on their print beds, and one alone into a file."""

from __future__ import annotations

import bpy
import numpy as np
import pytest
import trimesh
from mathutils import Vector
from mathutils.bvhtree import BVHTree

from blender_addon.bridge import names
from blender_addon.bridge.kept import kept

from .exact import overlap_mm3


@pytest.fixture
def laid(scene, scan):
    """The mushroom laid out for a small printer."""
    assert scan is not None
    for side in "xyz":
        setattr(scene.riseline.parts, f"bed_{side}_mm", 110.0)
    bpy.ops.riseline.lay_out()
    return scene


def shown(scene):
    return {one[names.PART]: one for one in scene.objects if names.PART in one}


def corners_mm(thing):
    bpy.context.view_layer.update()
    return 1000.0 * np.array([thing.matrix_world @ v.co for v in thing.data.vertices])


def beds(scene):
    return [one for one in scene.objects if one.get(names.OWN) == names.BED_ROLE]


def test_every_part_is_shown_and_bears_the_name_it_is_exported_by(laid):
    layout = kept.layout(laid.riseline.results.token)
    assert len(layout.parts.parts) > 6
    assert set(shown(laid)) == {part.name for part in layout.parts.parts}
    rows = laid.riseline.results.parts
    assert [row.name for row in rows] == [part.name for part in layout.parts.parts]
    assert {row.lies for row in rows} == {"upside down", "as it stands"}
    assert rows[0].tall_mm == pytest.approx(layout.parts.parts[0].size_mm[2])


def test_on_the_bed_each_part_lies_as_in_its_file_within_a_bed(laid):
    layout = kept.layout(laid.riseline.results.token)
    before = {name: thing.matrix_world.copy() for name, thing in shown(laid).items()}
    laid.riseline.parts_lie = "beds"
    frames = [corners_mm(bed) for bed in beds(laid)]
    assert len(frames) == 1 + max(bed for bed, *_ in layout.parts.bed_places_mm)
    for part, (bed, *_) in zip(layout.parts.parts, layout.parts.bed_places_mm, strict=True):
        corners = corners_mm(shown(laid)[part.name])
        low, high = corners.min(axis=0), corners.max(axis=0)
        assert high - low == pytest.approx(part.size_mm, abs=0.01)
        floor = frames[bed]
        assert low[2] == pytest.approx(floor[:, 2].max(), abs=0.01)
        assert (low[:2] >= floor[:, :2].min(axis=0) - 0.01).all()
        assert (high[:2] <= floor[:, :2].max(axis=0) + 0.01).all()
    laid.riseline.parts_lie = "assembled"
    assert not beds(laid)
    for name, thing in shown(laid).items():
        assert np.allclose(thing.matrix_world, before[name])


def test_the_choice_stays_when_the_mold_is_laid_out_again(laid):
    laid.riseline.parts_lie = "beds"
    count = len(beds(laid))
    laid.riseline.parts.fit_mm = 0.4
    bpy.ops.riseline.lay_out()
    assert len(beds(laid)) == count
    lowest = min(corners_mm(thing)[:, 2].min() for thing in shown(laid).values())
    assert lowest == pytest.approx(corners_mm(beds(laid)[0])[0, 2], abs=0.01)
    bpy.ops.riseline.remove_layout()
    assert not beds(laid)
    assert not [one for one in bpy.data.meshes if one.name.startswith("Print Bed")]


def test_a_part_goes_alone_into_a_file_that_others_read(laid, tmp_path):
    part = next(one for one in kept.layout(laid.riseline.results.token).parts.parts)
    bpy.context.view_layer.objects.active = shown(laid)[part.name]
    for ending in ("stl", "3mf"):
        file = tmp_path / f"mine.{ending}"
        assert bpy.ops.riseline.export_part(filepath=str(file)) == {"FINISHED"}
        read = trimesh.load(file, force="mesh")
        read.merge_vertices()
        assert read.is_watertight
        assert read.volume / 1000 == pytest.approx(part.volume_ml, rel=1e-5)
        assert read.extents == pytest.approx(part.size_mm, abs=1e-3)
    # the button of a row names its part; the ending is added where there is none
    assert bpy.ops.riseline.export_part(part="funnel", filepath=str(tmp_path / "f")) == {"FINISHED"}
    assert (tmp_path / "f.3mf").exists()
    with pytest.raises(RuntimeError, match="no part 'lid'"):
        bpy.ops.riseline.export_part(part="lid", filepath=str(tmp_path / "lid.3mf"))
    bpy.context.view_layer.objects.active = None
    with pytest.raises(RuntimeError, match="Select one of the parts"):
        bpy.ops.riseline.export_part(filepath=str(tmp_path / "none.3mf"))
    assert len(list(tmp_path.iterdir())) == 3


def crossing_faces(thing):
    """Return how many faces of an object run through others that they have no corner with."""
    thing.data.calc_loop_triangles()
    corners = [v.co for v in thing.data.vertices]
    faces = [tuple(t.vertices) for t in thing.data.loop_triangles]
    tree = BVHTree.FromPolygons(corners, faces)
    return sum(not set(faces[a]) & set(faces[b]) for a, b in tree.overlap(tree))


def test_by_blenders_own_search_no_part_crosses_itself(laid):
    for thing in shown(laid).values():
        assert crossing_faces(thing) == 0, thing.name
    # the planted fault: a corner of the funnel pushed through its other side
    funnel = shown(laid)["funnel"]
    funnel.data.vertices[0].co -= 3.0 * funnel.data.vertices[0].normal * 0.01
    assert crossing_faces(funnel) > 0


def test_by_blenders_own_exact_boolean_no_part_cuts_into_another(laid):
    things = list(shown(laid).values())
    near = [
        (a, b) for k, a in enumerate(things) for b in things[:k]
        if _apart_mm(a, b) < 0.0
    ]  # fmt: skip
    assert len(near) > 10
    for one, other in near:
        assert abs(overlap_mm3(one, other)) < 0.5, (one.name, other.name)
    # the planted fault: a part pushed into its neighbour by one millimetre is found
    one, other = near[0]
    way = Vector(corners_mm(other).mean(axis=0) - corners_mm(one).mean(axis=0)).normalized()
    one.matrix_world.translation += 0.001 * way
    assert abs(overlap_mm3(one, other)) > 5.0


def _apart_mm(one, other):
    a, b = corners_mm(one), corners_mm(other)
    return max((a.min(axis=0) - b.max(axis=0)).max(), (b.min(axis=0) - a.max(axis=0)).max())


def test_a_knife_guide_stands_round_the_block_when_it_is_wanted(scene, scan):
    assert scan is not None
    scene.riseline.parts.guide = "edge"
    bpy.ops.riseline.lay_out()
    layout = kept.layout(scene.riseline.results.token)
    (guide,) = (one for one in layout.parts.parts if one.role == "guide")
    board = next(one for one in layout.parts.parts if one.name == "base board")
    ours = [one.mesh.moved(one.to_assembly).vertices for one in (guide, board)]
    theirs = [corners_mm(shown(scene)[one.name]) for one in (guide, board)]
    apart = [np.linalg.norm(one[0].mean(axis=0) - one[1].mean(axis=0)) for one in (ours, theirs)]
    assert apart[1] == pytest.approx(apart[0], abs=0.05)  # where it belongs, by the board
    assert np.ptp(theirs[0][:, 2]) == pytest.approx(guide.tall_mm, abs=0.05)
    (row,) = (one for one in scene.riseline.results.parts if one.role == "guide")
    assert row.name == guide.name
