"""How thick a coat gets from its mass: by closed forms, and back from the shell's own volume."""

import numpy as np
import pytest

from blender_addon.core.resin.coat import thickness_mm
from blender_addon.core.units import KG_M3_TO_G_ML
from tests import shapes
from tests.core.amounts import resin_of
from tests.core.resin.test_shell import afloat
from tests.core.scans import bunny, standing

PI = np.pi
RESIN_G_ML = 1050.0 * KG_M3_TO_G_ML


@pytest.mark.parametrize("shell", [1.5, 3.0, 10.0])
def test_sixty_grams_in_a_ball_get_thicker_than_their_volume_over_the_wall(shell):
    # closed forms: V / S is 1.819 mm; 50 - (50^3 - 3 V / 4 pi)^(1/3) is 1.889 mm
    ml = 60.0 / RESIN_G_ML
    assert ml * 1e3 / (4 * PI * 50**2) == pytest.approx(1.819, abs=5e-4)
    exact = 50 - (50**3 - 3 * ml * 1e3 / (4 * PI)) ** (1 / 3)
    assert exact == pytest.approx(1.889, abs=5e-4)
    table = resin_of(afloat(shapes.sphere(50, 256)), shell_mm=shell).shell_table
    assert thickness_mm(table, ml) == pytest.approx(exact, rel=3e-3)


@pytest.mark.parametrize("thick", [0.5, 2.0, 4.0, 7.5])
def test_a_coat_in_an_open_bore_stays_off_its_rim(thick):
    # coat on wall and floor of a bore of radius 40, 150 deep: closed form
    ml = PI * (40**2 * 150 - (40 - thick) ** 2 * (150 - thick)) / 1e3
    table = resin_of(standing(shapes.cylinder(40, 150 - 6.35, 256)), shell_mm=4.0).shell_table
    assert thickness_mm(table, ml) == pytest.approx(thick, rel=5e-3)


def test_the_table_of_a_scan_is_what_each_shell_takes_by_itself():
    scan = standing(bunny(100.0))
    table = resin_of(scan, shell_mm=3.0).shell_table
    for shell in (1.5, 3.0, 5.0):
        alone = resin_of(scan, shell_mm=shell).shell_ml
        assert thickness_mm(table, alone) == pytest.approx(shell, rel=0.01)


def test_nothing_mixed_is_no_coat_and_more_than_the_table_tells_is_no_answer():
    table = resin_of(afloat(shapes.box((20.0, 20.0, 20.0))), shell_mm=8.0).shell_table
    assert thickness_mm(table, 0.0) == 0.0
    assert thickness_mm(table, 8.1) is None  # the box holds 8 ml
    assert (np.diff(table, axis=0) > 0.0).all()
    assert table[-1] == pytest.approx([10.0, 8.0], abs=0.6)  # solid at half its width
