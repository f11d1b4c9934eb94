"""The printed funnel: it hangs on the rim, holds what it should, and lets the stream fall."""

from __future__ import annotations

import dataclasses

import manifold3d
import pytest

from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.parts.funnel import funnel_solid
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.watch import Watch
from tests.core.parts.made import LAYOUTS, TOUCH_MM3, by_name, case_of, laid_out, placed


def test_the_funnel_hangs_on_the_rim_and_cannot_slide_off():
    _, _, parts = laid_out("stock tube")
    halves, spout = placed(parts[0]) + placed(parts[1]), placed(parts[3])
    assert (spout.translate((0, 0, -0.2)) ^ halves).volume() > 10  # it rests on the rim
    assert (spout.translate((0, 0, 0.2)) ^ halves).volume() == 0
    for way in ((0, 2.5, 0), (0, -2.5, 0)):
        assert (spout.translate(way) ^ halves).volume() > 10
    # and the rim is what it rests on: all of it but the throat's own width, behind the hook
    pressed = (spout.translate((0, 0, -0.1)) ^ halves).volume() / 0.1
    assert pressed > 2 * 10 * 3.2


def test_a_bar_of_the_throat_s_shape_falls_through_and_water_stays_in_the_bowl():
    _, funnel, parts = laid_out("stock tube")
    x, y = funnel.at_mm
    spout = placed(parts[3])
    throat = manifold3d.CrossSection([funnel.spread.ring(-0.01)])
    bar = throat.extrude(1000).translate((0, 0, -100))
    assert (spout ^ bar).volume() == 0
    assert (spout ^ throat.offset(0.1).extrude(1000)).volume() > 1
    # stop the throat: what a block over it then encloses is the bowl
    low, high = funnel.cone_z_mm, funnel.top_z_mm - 0.01
    block = manifold3d.Manifold.cube((400, 400, high - low)).translate((x - 200, y - 200, low))
    pools = [p for p in (block - spout).decompose() if p.bounding_box()[3] < x + 199]
    bowl_ml = max(pool.volume() for pool in pools) / 1000
    assert bowl_ml == pytest.approx(funnel.bowl_ml, rel=1e-3)


def dropped(case, funnel, solids, *, thicker_mm=-0.01):
    """Return what a cylinder of the channel's diameter meets from over the bowl to the floor."""
    x, y = case.channel_at_mm
    radius = case.channel_mm / 2 + thicker_mm
    bar = manifold3d.Manifold.cylinder(funnel.top_z_mm + 50, radius, circular_segments=256)
    bar = bar.translate((x, y, 0.001))
    return sum((bar ^ solid).volume() for solid in solids)


@pytest.mark.parametrize("name", LAYOUTS)
def test_a_cylinder_of_the_channel_s_diameter_falls_through_funnel_and_channel_to_the_floor(name):
    case, funnel, parts = laid_out(name)
    solids = [to_solid(case.master), *(placed(part) for part in parts)]
    assert dropped(case, funnel, solids) < 0.01
    assert dropped(case, funnel, solids, thicker_mm=0.1) > 1  # and it is the widest that does


def test_the_drop_sees_a_funnel_whose_throat_is_too_narrow():
    # the planted fault: half a millimetre less than the channel
    case = case_of("stock tube")
    asked = FunnelSettings(widest_throat_mm=case.channel_mm - 0.5)
    funnel = funnel_stage(case, asked, Watch())
    assert dropped(case, funnel, [funnel_solid(case, funnel, PartsSettings())]) > 10


@pytest.mark.parametrize("name", LAYOUTS)
def test_no_part_of_the_funnel_comes_near_master_or_rubber(name):
    case, funnel, parts = laid_out(name)
    spout = placed(parts[-1])
    below = spout.trim_by_plane((0, 0, -1), -case.level_z_mm)
    inside = case.bore.section().extrude(case.level_z_mm)
    assert (below ^ inside).volume() < TOUCH_MM3  # the rubber's surface stays free
    assert spout.min_gap(to_solid(case.master), 200.0) >= case.cover_mm
    assert funnel.throat_bottom_z_mm > case.level_z_mm


def test_a_tube_that_turns_out_narrower_by_its_standard_still_takes_the_jaws():
    # a 6 in pipe may measure 152.04 inside instead of 154.05 (ASTM D1785): 1 mm on each side
    case = case_of("stock tube")
    funnel = funnel_stage(case, FunnelSettings(), Watch())
    narrower = case.bore.offset(case.wall_mm).section() - case.bore.offset(-1.0).section()
    tube = narrower.extrude(case.height_mm)
    slack = dataclasses.replace(case, bore_slack_mm=1.0)
    assert (funnel_solid(slack, funnel, PartsSettings()) ^ tube).volume() < 1e-3
    assert (funnel_solid(case, funnel, PartsSettings()) ^ tube).volume() > 10


def test_the_case_s_own_halves_are_clear_of_hook_and_jaws_by_the_fit():
    _, _, parts = laid_out("usual")
    halves = placed(parts[0]) + placed(parts[1])
    (spout,) = by_name(parts, "funnel")
    raised = placed(spout).translate((0, 0, 1.0))
    assert raised.min_gap(halves, 3.0) == pytest.approx(0.3, abs=0.05)
