"""What is written and shown in a view stands beside tool bar and sidebar."""

from __future__ import annotations

from types import SimpleNamespace

import bpy
import pytest

from blender_addon.ui import view
from blender_addon.ui.overlay import letters_in
from blender_addon.ui.room import clear_px, clear_rows_px, fitting, shift_px
from tests.blender.drawn import context

REGIONS = [
    SimpleNamespace(type="WINDOW", width=1000, height=900),
    SimpleNamespace(type="TOOLS", width=60, height=600),
    SimpleNamespace(type="UI", width=340, height=600),
    SimpleNamespace(type="HEADER", width=1000, height=30),
    SimpleNamespace(type="TOOL_HEADER", width=1000, height=26),
]

AREA = SimpleNamespace(regions=REGIONS)


@pytest.fixture
def overlaps():
    system = bpy.context.preferences.system
    was = system.use_region_overlap
    system.use_region_overlap = True
    yield system
    system.use_region_overlap = was


def test_the_view_is_clear_between_tool_bar_and_sidebar_where_they_lie_over_it(overlaps):
    assert clear_px(REGIONS) == (60.0, 660.0)
    overlaps.use_region_overlap = False
    assert clear_px(REGIONS) == (0.0, 1000.0)


def test_the_view_is_clear_between_its_heads_and_the_letters_in_it(overlaps):
    assert clear_rows_px(REGIONS, 200.0) == (56.0, 700.0)
    assert clear_rows_px(REGIONS, 0.0) == (56.0, 900.0)
    assert clear_rows_px(REGIONS, 890.0) == (0.0, 900.0)  # nothing is clear: as if all were
    overlaps.use_region_overlap = False
    assert clear_rows_px(REGIONS, 200.0) == (0.0, 700.0)


@pytest.mark.parametrize(
    ("block", "room", "scale"),
    [
        ((400.0, 300.0), (500.0, 300.0), 2.0),
        ((100.0, 100.0), (500.0, 300.0), 2.0),  # there is room for letters thrice as large
        ((800.0, 300.0), (400.0, 300.0), 1.0),
        ((100.0, 300.0), (400.0, 75.0), 0.5),
        ((800.0, 300.0), (400.0, 75.0), 0.5),
        ((800.0, 300.0), (-4.0, 75.0), 0.0),
    ],
)
def test_letters_are_made_smaller_until_they_fit_and_never_larger(block, room, scale):
    assert fitting(2.0, block, room) == pytest.approx(scale)


@pytest.mark.parametrize(
    ("needed", "aside"),
    [(320.0, 0.0), (420.0, 50.0), (480.0, 80.0), (599.0, 139.5), (5000.0, 140.0)],
)
def test_a_thing_moves_aside_by_what_the_sidebar_hides_and_to_the_clear_middle_at_most(
    needed, aside
):
    assert shift_px((60.0, 660.0), 1000.0, needed) == pytest.approx(aside)


def test_nothing_moves_where_nothing_lies_over_the_view():
    assert shift_px((0.0, 1000.0), 1000.0, 5000.0) == 0.0


@pytest.mark.parametrize("lens_mm", [35.0, 50.0, 85.0])
@pytest.mark.parametrize("eye", [(0.7, -1.0, 0.35), (0.0, 0.0, -1.0)])
@pytest.mark.parametrize("rows", [1.0, 0.7, 0.2])
def test_what_is_framed_is_seen_beside_the_sidebar_and_over_the_letters(
    scene, monkeypatch, eye, lens_mm, rows
):
    """A pinhole's picture by hand; Blender's own projection is asked in a window, by the plays."""
    bpy.ops.mesh.primitive_cube_add(location=(3.0, -2.0, 1.0))
    cube = bpy.context.object
    bpy.context.view_layer.update()
    area = next(one for one in bpy.context.window.screen.areas if one.type == "VIEW_3D")
    width, height = next((one.width, one.height) for one in area.regions if one.type == "WINDOW")
    clear = 0.0, 0.6 * width
    clear_rows = 0.0, rows * height
    monkeypatch.setattr(view, "clear_px", lambda _regions: clear)
    monkeypatch.setattr(view, "clear_rows_px", lambda _regions, _letters_px: clear_rows)
    area.spaces.active.lens = lens_mm
    view.look_from(bpy.context, eye)
    view.frame(bpy.context, [cube])
    eye_3d = area.spaces.active.region_3d
    px_per_unit = max(width, height) * lens_mm / 72.0 / eye_3d.view_distance
    seen = eye_3d.view_rotation.inverted() @ (cube.location - eye_3d.view_location) * px_per_unit
    aside = shift_px(clear, width, 12.0**0.5 * px_per_unit)  # a cube of edge 2: its diagonal
    assert scene.objects[:] == [cube]
    assert aside > 0.0 or rows < 0.5
    up = shift_px(clear_rows, height, 12.0**0.5 * px_per_unit)
    assert (up > 0.0) == (rows < 1.0)
    if rows < 0.5:
        assert 0.75 * 12.0**0.5 * px_per_unit == pytest.approx(rows * height)
    assert tuple(seen) == pytest.approx((-aside, up, 0.0), abs=0.5)


@pytest.mark.usefixtures("overlaps")
def test_letters_reach_up_as_far_as_their_lines_and_never_over_a_third_of_the_view(scene):
    assert letters_in(context(), AREA) is None
    scene.riseline.results.token = "of a layout"  # noqa: S105 - no secret
    seen = []
    for scale in (0.5, 1.0, 2.0, 4.0):
        here = SimpleNamespace(
            scene=scene, preferences=SimpleNamespace(system=SimpleNamespace(ui_scale=scale))
        )
        letters = letters_in(here, AREA)
        lines_px = sum(size_pt for size_pt, _ in letters.lines) * letters.scale
        assert lines_px < letters.top - letters.low <= 900.0 / 3.0
        assert letters.scale <= scale
        seen.append(letters.scale)
    assert seen[:2] == [0.5, 1.0]  # there is room for them
    assert seen[3] < 2.0
    scene.riseline.shows_numbers = False
    assert letters_in(context(), AREA) is None
