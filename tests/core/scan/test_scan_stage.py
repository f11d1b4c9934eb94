"""From what a scanner gives to a master: closed, true to size, upright, and nothing of it lost."""

from __future__ import annotations

import math
from math import pi

import numpy as np
import pytest
import trimesh

from blender_addon.core.errors import BadSettingError, CancelledError, UnusableMeshError
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.geometry.solid import open_edges
from blender_addon.core.scan import warn
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.size import upright_size_mm
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.scan.upright import find_up
from blender_addon.core.watch import Watch
from tests import scans, shapes


def scanned(mesh, **settings):
    return scan_stage(mesh, ScanSettings(**settings), Watch())


def bust(*, open_base=False):
    """Return a rounded piece on a flat base, 60 mm tall."""
    angle = np.linspace(-np.pi / 4, np.pi / 2, 60)
    profile = np.column_stack([30 * np.cos(angle), 30 * np.sin(angle)])
    profile[-1, 0] = 0.0
    mesh = shapes.turned(np.vstack([[(0.0, profile[0, 1])], profile]), 96)
    if not open_base:
        return mesh
    return scans.without_faces(mesh, np.ptp(mesh.corners[:, :, 2], axis=1) == 0.0)


def test_a_closed_mesh_keeps_volume_and_area_and_stands_on_its_riser():
    result = scanned(shapes.box((40.0, 30.0, 20.0), (7.0, 8.0, 9.0)), riser_mm=6.35, up="+z")
    assert result.volume_ml == pytest.approx(24.0)
    assert result.area_cm2 == pytest.approx(52.0)
    assert result.size_mm == pytest.approx((40.0, 30.0, 20.0))
    low, high = result.mesh.bounds
    assert low == pytest.approx([-20.0, -15.0, 6.35])
    assert high == pytest.approx([20.0, 15.0, 26.35])
    assert result.changes == ()
    assert result.base_faces.sum() == 2
    (outline,) = result.riser_outline
    assert np.ptp(outline, axis=0) == pytest.approx([40.0, 30.0])


@pytest.mark.parametrize(
    ("mesh", "exact_ml"),
    [
        (shapes.sphere(40.0, 256), 4.0 / 3.0 * pi * 64.0),
        (shapes.torus(40.0, 12.0, 256), 2.0 * pi**2 * 40.0 * 144.0 / 1000.0),
        (shapes.dome(40.0, 90.0, 5.0), 2.0 / 3.0 * pi * (45.0**3 - 40.0**3) / 1000.0),
    ],
    ids=["ball", "ring", "half a shell"],
)
def test_volumes_agree_with_closed_forms(mesh, exact_ml):
    # 4/3 pi R^3, 2 pi^2 R r^2, 2/3 pi (R^3 - r^3): Bronstein, Handbook of Mathematics, ch. 3.3.
    assert scanned(mesh, up="+z").volume_ml == pytest.approx(exact_ml, rel=0.002)


@pytest.mark.parametrize(("name", "along"), [("width_mm", 0), ("depth_mm", 1), ("height_mm", 2)])
def test_any_one_dimension_of_the_upright_piece_scales_it(name, along):
    given = shapes.box((2.0, 3.0, 4.0))
    result = scanned(given, up="+x", **{name: 60.0})
    upright = (4.0, 3.0, 2.0)  # +x up lays z level
    expected = [60.0 / upright[along] * one for one in upright]
    assert result.size_mm == pytest.approx(expected)
    size_mm, axis = upright_size_mm(given, ScanSettings(up="+x"))
    assert size_mm == pytest.approx(upright)
    assert axis == "+x"


def test_two_dimensions_at_once_are_refused():
    with pytest.raises(BadSettingError, match=r"scan\.width_mm and scan\.height_mm are given"):
        scanned(shapes.box((2.0, 3.0, 4.0)), height_mm=60.0, width_mm=30.0)


def test_the_height_scales_the_piece():
    result = scanned(shapes.box((1.0, 1.0, 2.0)), height_mm=100.0, up="+z")
    assert result.scale == 50.0
    assert result.size_mm == pytest.approx((50.0, 50.0, 100.0))


@pytest.mark.parametrize(
    ("up", "height"), [("+x", 1), ("-x", 1), ("+y", 2), ("-y", 2), ("+z", 3), ("-z", 3)]
)
def test_an_axis_stands_the_piece_up_without_mirroring_it(up, height):
    sizes = (10.0, 20.0, 30.0)
    corner = shapes.box((2.0, 2.0, 2.0), (0.0, 0.0, 0.0))
    mesh = shapes.joined(shapes.box(sizes), corner.with_vertices(corner.vertices - 1.0))
    result = scanned(mesh, up=up)
    assert result.up == up
    assert result.size_mm[2] == pytest.approx(10.0 * height + 1.0)
    direction = result.placement[2, :3]
    expected = {"+": 1.0, "-": -1.0}[up[0]] * np.eye(3)["xyz".index(up[1])]
    np.testing.assert_allclose(direction, expected, atol=1e-12)
    assert np.linalg.det(result.placement[:3, :3]) == pytest.approx(1.0)


@pytest.mark.parametrize("open_base", [False, True], ids=["closed", "open base"])
def test_the_flat_base_is_found_however_the_piece_lies(open_base):
    piece = bust(open_base=open_base)
    turn, _ = np.linalg.qr(np.random.default_rng(3).normal(size=(3, 3)))
    turn *= np.sign(np.linalg.det(turn))
    result = scanned(piece.with_vertices(piece.vertices @ turn.T))
    upright = scanned(piece, up="+z")
    assert result.size_mm[2] == pytest.approx(upright.size_mm[2], rel=1e-3)
    assert result.volume_ml == pytest.approx(upright.volume_ml, rel=1e-3)
    assert result.warnings == ()


@pytest.mark.parametrize("open_base", [False, True], ids=["closed", "open base"])
def test_the_flat_base_is_found_of_a_scan_that_was_written_inside_out(open_base):
    piece = bust(open_base=open_base)
    lying = piece.with_vertices(piece.vertices[:, [2, 0, 1]])  # its up is +x
    inside_out = Mesh(lying.vertices, lying.faces[:, ::-1])
    assert find_up(inside_out, "auto").axis == find_up(lying, "auto").axis == "+x"


@pytest.mark.parametrize("ragged_share", [0.0, 0.02, 0.06])
def test_a_half_ball_stands_on_its_ragged_rim_however_it_lies(ragged_share):
    # open below: how far the rim runs up is a share of the height, as scanners leave it
    ball = shapes.sphere(60.0, 96)
    lowest = 60.0 * ragged_share * (np.arange(len(ball.faces)) % 7) / 7.0
    half = scans.without_faces(ball, ball.corners[:, :, 2].min(axis=1) < lowest - 1e-9)
    turned = half.with_vertices(half.vertices[:, [1, 2, 0]])  # its up is +y
    found = find_up(turned, "auto")
    assert (found.axis, found.flat_base) == ("+y", True)
    assert found.vector @ [0.0, 1.0, 0.0] > math.cos(math.radians(3.0))


def test_a_flat_top_wider_than_the_foot_does_not_turn_the_piece_over():
    profile = [(0, 0), (20, 0), (20, 50), (36, 50), (36, 42), (40, 42), (40, 60), (0, 60)]
    result = scanned(shapes.turned(profile, 96))
    assert result.up == "+z"
    assert result.size_mm[2] == pytest.approx(60.0)


def test_a_ball_has_no_flat_base_and_says_so():
    result = scanned(shapes.sphere(30.0, 128))
    assert result.up == "+z"
    assert [notice.code for notice in result.warnings] == ["no_flat_base"]


def test_an_open_base_is_closed_flat_in_its_own_plane():
    result = scanned(bust(open_base=True), up="+z")
    whole = scanned(bust(), up="+z")
    assert result.volume_ml == pytest.approx(whole.volume_ml)
    assert result.changes == ("base closed flat",)
    assert len(result.holes) == 1
    added = result.source_faces < 0
    assert added.any()
    assert np.ptp(result.mesh.corners[added][:, :, 2]) == 0.0
    assert result.base_faces[added].all()


def test_a_ragged_base_gets_a_curtain_down_to_the_plane():
    piece = bust()
    middles = piece.corners.mean(axis=1)
    ragged = middles[:, 2] < -20.5 + 0.6 * np.sin(9.0 * np.arctan2(middles[:, 1], middles[:, 0]))
    result = scanned(scans.without_faces(piece, ragged), up="+z")
    assert not len(open_edges(result.mesh))
    assert result.changes == ("base closed flat",)
    assert np.count_nonzero(np.isclose(result.mesh.vertices[:, 2], result.riser_mm)) > 50


def test_small_holes_are_closed_and_named():
    piece = bust()
    hole = np.linalg.norm(piece.corners.mean(axis=1) - (21.0, 0.0, 21.0), axis=1) < 4.0
    assert hole.any()
    result = scanned(scans.without_faces(piece, hole), up="+z")
    assert not len(open_edges(result.mesh))
    assert result.volume_ml == pytest.approx(scanned(piece, up="+z").volume_ml, rel=0.005)
    (found,) = result.holes
    assert found.across_mm < 15.0
    assert found.at_mm[0] == pytest.approx(21.0, abs=1.5)
    assert result.open_edges == found.edges


def test_a_small_hole_in_an_underside_grows_no_leg_down_to_the_board():
    profile = [(0, 0.8), (16, 0.8), (16, 0), (20, 0), (20, 60), (0, 60)]
    mesh = shapes.turned(profile, 96)
    for _ in range(3):
        mesh = shapes.refined(mesh)
    middles = mesh.corners.mean(axis=1)
    torn = (np.linalg.norm(middles - (9.0, 0.0, 0.8), axis=1) < 2.0) & (mesh.vectors_mm2[:, 2] < 0)
    result = scanned(scans.without_faces(mesh, torn), up="+z")
    assert len(result.holes) == 1
    assert result.volume_ml == pytest.approx(scanned(mesh, up="+z").volume_ml, rel=1e-6)


def test_a_patch_uses_no_edge_that_two_faces_share():
    # A hole of four edges, across which a fin of two faces stands: both diagonals are taken.
    mesh = shapes.box((20.0, 20.0, 20.0))
    top = [tuple(face) for face in mesh.faces.tolist() if set(face) <= {4, 5, 6, 7}]
    keep = [face for face in mesh.faces.tolist() if tuple(face) not in top]
    vertices = np.vstack([mesh.vertices, [[10.0, 10.0, 30.0], [10.0, 10.0, 34.0]]])
    fins = []
    for (a, b), tip in (((4, 7), 8), ((5, 6), 9)):
        fins += [(a, b, tip), (b, a, tip)]
    result = scanned(Mesh(vertices, keep + fins), up="+z", speck_percent=0.0)
    judge = trimesh.Trimesh(result.mesh.vertices, result.mesh.faces, process=False)
    assert judge.is_watertight
    assert len(result.holes) == 1


def test_specks_are_dropped_but_not_large_pieces():
    speck = shapes.box((0.5, 0.5, 0.5), (50.0, 0.0, 0.0))
    second = shapes.box((20.0, 20.0, 20.0), (60.0, 0.0, -20.0))
    result = scanned(shapes.joined(bust(), speck, second), up="+z")
    assert result.pieces == 2
    assert result.changes == ("one speck dropped",)
    assert len(result.mesh.faces) == result.triangles - 12
    assert result.source_faces.max() == result.triangles - 1


def test_a_mesh_inside_out_is_noticed_and_turned_back():
    piece = bust()
    result = scanned(Mesh(piece.vertices, piece.faces[:, ::-1]), up="+z")
    assert result.volume_ml == pytest.approx(scanned(piece, up="+z").volume_ml)
    assert result.changes == ("turned inside out, turned back",)


def test_an_inner_hollow_is_left_out_and_named():
    wall = shapes.sphere(10.0, 48)
    result = scanned(shapes.joined(bust(), Mesh(wall.vertices, wall.faces[:, ::-1])), up="+z")
    assert result.volume_ml == pytest.approx(scanned(bust(), up="+z").volume_ml)
    assert result.changes == ("one inner hollow left out",)


def test_a_handle_is_counted_as_a_through_hole():
    assert scanned(shapes.torus(30.0, 10.0), up="+z").through_holes == 1


@pytest.mark.parametrize(
    "change",
    [
        lambda mesh: mesh.with_vertices(mesh.vertices + (500.0, -300.0, 77.0)),
        lambda mesh: Mesh(mesh.vertices, mesh.faces[::-1]),
        lambda mesh: shapes.spun(mesh, 40.0),
        shapes.refined,
    ],
    ids=["moved", "reversed order", "turned about z", "refined"],
)
def test_the_master_does_not_depend_on_how_the_scan_is_given(change):
    piece = bust(open_base=True)
    assert scanned(change(piece), up="+z").volume_ml == pytest.approx(
        scanned(piece, up="+z").volume_ml, rel=1e-6
    )


def test_the_placement_brings_each_given_face_to_where_it_stands():
    piece = bust(open_base=True)
    given = piece.with_vertices(piece.vertices[:, [2, 0, 1]] * 0.1 + 5.0)
    result = scanned(given, up="+x", height_mm=80.0)
    kept = result.source_faces >= 0
    placed = given.moved(result.placement).corners[result.source_faces[kept]]
    np.testing.assert_allclose(placed, result.mesh.corners[kept], atol=1e-9)


def test_a_real_scan_with_holes_becomes_one_closed_manifold():
    given = scans.bunny()
    result = scanned(given, height_mm=150.0)
    judge = trimesh.Trimesh(result.mesh.vertices, result.mesh.faces, process=False)
    assert judge.is_watertight
    assert judge.is_winding_consistent
    assert judge.volume / 1000.0 == pytest.approx(result.volume_ml, rel=1e-9)
    assert to_solid(result.mesh).volume() / 1000.0 == pytest.approx(result.volume_ml, rel=1e-6)
    assert result.size_mm[2] == pytest.approx(150.0)
    used = trimesh.Trimesh(given.vertices, given.faces, process=False)
    counts = np.bincount(used.edges_unique_inverse)
    assert result.open_edges == np.count_nonzero(counts == 1)


def in_bits(mesh):
    """Return each triangle shrunk about its middle: none shares a corner with another."""
    corners = mesh.corners
    shrunk = corners + 0.1 * (corners.mean(axis=1, keepdims=True) - corners)
    return Mesh(shrunk.reshape(-1, 3), np.arange(3 * len(corners)).reshape(-1, 3))


FLAT = Mesh([[0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0]], [[0, 1, 2], [0, 2, 3]])


@pytest.mark.parametrize(
    ("mesh", "settings", "says"),
    [
        (Mesh(np.zeros((3, 3)), np.zeros((0, 3))), {}, "no triangles"),
        (Mesh(np.zeros((3, 3)), [[0, 1, 2]]), {}, "empty"),
        (FLAT, {}, "flat"),
        (FLAT, {"up": "+z"}, "flat"),
        (shapes.box((0.15, 0.1, 0.15)), {"up": "+z"}, "true height"),
        (shapes.box((9000.0, 100.0, 150.0)), {"up": "+z"}, "true height"),
        (Mesh(FLAT.vertices, [[0, 1, 2], [0, 2, 1]]), {}, "flat"),
        (in_bits(shapes.sphere(20.0, 24)), {}, "triangles do not join"),
    ],
    ids=["none", "empty", "plane", "named axis", "metres", "huge", "two-sided plane", "bits"],
)
def test_what_cannot_be_molded_is_refused_in_words(mesh, settings, says):
    with pytest.raises(UnusableMeshError, match=says):
        scanned(mesh, **settings)


def test_a_scan_in_meters_that_is_taken_for_millimeters_is_told_how_tall_it_would_be_in_meters():
    with pytest.raises(UnusableMeshError, match="or the unit of its numbers") as refused:
        scanned(shapes.box((0.1, 0.1, 0.25)), up="+z")
    assert str(refused.value).endswith("numbers: in meters it would be 250.0 mm tall.")


def test_a_height_that_makes_a_scan_absurdly_wide_is_doubted_itself():
    with pytest.raises(UnusableMeshError, match="Look at the dimension that was given"):
        scanned(shapes.box((900, 20, 10)), up="+z", height_mm=300.0)


def test_two_sheets_that_enclose_nothing_are_refused():
    sheet = FLAT.with_vertices(FLAT.vertices + (0.0, 0.0, 30.0))
    mesh = shapes.joined(
        FLAT, sheet, shapes.Mesh(FLAT.vertices + (0, 0, 60.0), FLAT.faces[:, ::-1])
    )
    with pytest.raises(UnusableMeshError, match="no volume"):
        scanned(mesh, up="+z")


def test_it_stops_when_asked():
    with pytest.raises(CancelledError):
        scan_stage(bust(), ScanSettings(), Watch(cancelled=lambda: True))


def punctured(count):
    """Return a plate with square holes of 30 mm: four triangles taken out of a grid each."""
    ground = shapes.box((400.0, 400.0, 200.0))
    fine = ground
    for _ in range(5):
        fine = shapes.refined(fine)
    middles = fine.corners.mean(axis=1)
    chosen = np.zeros(len(fine.faces), dtype=bool)
    for k in range(count):
        center = np.array([200.0 - 150.0 * np.cos(k), 200.0 - 150.0 * np.sin(k), 200.0])
        chosen |= np.abs(middles - center).max(axis=1) < 35.0
    return scans.without_faces(fine, chosen)


def test_of_many_large_holes_the_widest_are_told_one_by_one_and_the_rest_by_number():
    told = [one for one in scanned(punctured(6), up="+z").warnings if one.code == "large_hole"]
    assert len(told) == 4
    assert told[-1].text.startswith("6 large holes were closed by a guess")
    few = [one for one in scanned(punctured(2), up="+z").warnings if one.code == "large_hole"]
    assert len(few) == 2


def test_a_piece_that_hangs_free_is_told_with_its_place():
    body = shapes.box((40.0, 40.0, 30.0))
    loose = shapes.box((10.0, 10.0, 10.0), (15.0, 15.0, 50.0))
    found = scanned(shapes.joined(body, loose), up="+z")
    (notice,) = [one for one in found.warnings if one.code == "hangs_free"]
    assert notice.at_mm == pytest.approx((0.0, 0.0, found.riser_mm + 55.0))
    assert "Join it to the rest, or delete it" in notice.text
    more = scanned(
        shapes.joined(body, loose, shapes.box((9.0, 9.0, 9.0), (0.0, 0.0, 60.0))), up="+z"
    )
    (notice,) = [one for one in more.warnings if one.code == "hangs_free"]
    assert "Join them to the rest, or delete them" in notice.text
    beside = shapes.box((10.0, 10.0, 10.0), (60.0, 15.0, 0.0))
    both = scanned(shapes.joined(body, beside), up="+z")
    assert not [one for one in both.warnings if one.code == "hangs_free"]


def test_a_scan_too_fine_to_be_quick_is_told_of(monkeypatch):
    ball = shapes.sphere(20.0, 24)
    monkeypatch.setattr(warn, "FINE_TRIANGLES", len(ball.faces) - 1)
    found = scan_stage(ball, ScanSettings(), Watch())
    assert [one.code for one in found.warnings].count("very_fine") == 1
    monkeypatch.setattr(warn, "FINE_TRIANGLES", len(ball.faces))
    again = scan_stage(ball, ScanSettings(), Watch())
    assert "very_fine" not in {one.code for one in again.warnings}
