"""The printed funnel: it hangs on the rim, holds what it should, and lets the stream fall."""

from __future__ import annotations

import manifold3d
import pytest

from blender_addon.core.geometry.manifold import to_solid
from tests.core.parts.made import laid_out, placed


def test_the_funnel_hangs_on_the_rim_and_cannot_slide_off():
    _, _, parts = laid_out("stock tube")
    halves, spout = placed(parts[0]) + placed(parts[1]), placed(parts[3])
    assert (spout.translate((0, 0, -0.2)) ^ halves).volume() > 10  # it rests on the rim
    assert (spout.translate((0, 0, 0.2)) ^ halves).volume() == 0
    for way in ((0, 2.5, 0), (0, -2.5, 0)):
        assert (spout.translate(way) ^ halves).volume() > 10


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


@pytest.mark.parametrize("name", ["usual", "stock tube", "tall", "two feet"])
def test_a_bar_as_thick_as_the_channel_drops_past_case_board_and_master(name):
    case, _, parts = laid_out(name)
    x, y = case.channel_at_mm
    bar = manifold3d.Manifold.cylinder(
        case.height_mm, case.channel_mm / 2 - 0.01, circular_segments=256
    ).translate((x, y, 0.001))
    for solid in (to_solid(case.master), *(placed(part) for part in parts[:-1])):
        assert (bar ^ solid).volume() < 0.01
