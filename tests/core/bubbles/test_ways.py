"""Ways of standing a piece."""

from __future__ import annotations

from math import pi

import pytest

from blender_addon.core.bubbles.ways import ways_up
from blender_addon.core.scan.settings import ScanSettings
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.watch import Watch
from tests import shapes


def ways_of(mesh, **settings):
    scan = scan_stage(mesh, ScanSettings(**settings), Watch())
    return {way.up: way.trapped_ml for way in ways_up(scan)}


def block_with_a_hollow_below():
    """Return a block of 60 mm whose underside is hollow in the middle, 20 mm deep."""
    return shapes.turned([(15, 0), (30, 0), (30, 60), (0, 60), (0, 20), (15, 20)], 128)


def test_a_hollow_block_traps_its_hollow_on_its_rim_and_nothing_upside_down():
    # On its rim the board shuts the hollow off; upside down it is a bowl that fills.
    found = ways_of(block_with_a_hollow_below(), up="+z")
    assert set(found) == {"+x", "-x", "+y", "-y", "+z", "-z"}
    assert found["-z"] == pytest.approx(0.0, abs=0.05)
    assert found["+z"] == pytest.approx(pi * 15.0**2 * 20.0 / 1000.0, rel=0.06)


def test_a_cap_on_a_stem_traps_its_hollow_upright_and_nothing_upside_down():
    mesh = shapes.turned(
        [(0, 0), (12, 0), (12, 40), (26, 40), (26, 30), (30, 30), (30, 50), (0, 50)], 128
    )
    found = ways_of(mesh, up="+z")
    exact_ml = pi * (26.0**2 - 12.0**2) * 10.0 / 1000.0
    assert found["+z"] == pytest.approx(exact_ml, rel=0.06)  # a coarse first look
    assert found["-z"] == pytest.approx(0.0, abs=0.05)


def test_ways_are_named_by_the_axes_of_the_scan_as_given():
    mesh = shapes.turned(
        [(0, 0), (12, 0), (12, 40), (26, 40), (26, 30), (30, 30), (30, 50), (0, 50)], 128
    )
    lying = mesh.with_vertices(mesh.vertices[:, [2, 0, 1]])  # what was up is +x now
    found = ways_of(lying, up="+x")
    assert found["+x"] == pytest.approx(ways_of(mesh, up="+z")["+z"], rel=0.01)
    assert found["-x"] == pytest.approx(0.0, abs=0.05)


def test_the_best_way_stands_first():
    scan = scan_stage(block_with_a_hollow_below(), ScanSettings(up="+z"), Watch())
    trapped = [way.trapped_ml for way in ways_up(scan)]
    assert trapped == sorted(trapped)
