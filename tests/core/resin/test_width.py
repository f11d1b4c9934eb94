"""How thick a fill is for its heat: closed forms, what no body may undercut, and deep stems."""

import math

import manifold3d
import numpy as np
import pytest
from scipy.special import erf, j1, jn_zeros

from blender_addon.core.catalog.sheets import ResinSheet
from blender_addon.core.resin.fills import FillLimits, staged_fills
from blender_addon.core.resin.width import level_widths, section_width_mm, slab_mm
from tests import shapes
from tests.core.amounts import resin_of
from tests.core.scans import standing

BESSEL = float(jn_zeros(0, 1)[0])
RISER = 6.35
Section = manifold3d.CrossSection


def rod_mm(diameter):
    """Return the slab that cools as slowly as a rod: Carslaw, Jaeger 1959, section 7.6."""
    return math.pi * diameter / (2.0 * BESSEL)


SECTIONS = {
    # least k of div grad u = -k u, closed forms; the triangle after Lame, 1833: 16 pi^2 / (3 a^2)
    "rod": (Section.circle(20.0, 256), rod_mm(40.0)),
    "square": (Section.square((40.0, 40.0)), 40.0 / math.sqrt(2.0)),
    "two to one": (Section.square((20.0, 40.0)), 1.0 / math.hypot(1 / 20, 1 / 40)),
    "triangle": (
        Section([np.array([[0.0, 0.0], [30.0, 0.0], [15.0, 15.0 * math.sqrt(3.0)]])]),
        30.0 * math.sqrt(3.0) / 4.0,
    ),
    "half a rod": (
        Section.circle(20.0, 256) ^ Section.square((40.0, 40.0)).translate((0.0, -20.0)),
        math.pi * 20.0 / float(jn_zeros(1, 1)[0]),
    ),
}


@pytest.mark.parametrize("turn_deg", [0.0, 31.0])
@pytest.mark.parametrize("name", SECTIONS)
def test_a_bar_comes_out_as_wide_as_the_closed_form_and_never_narrower(name, turn_deg):
    section, exact = SECTIONS[name]
    assert exact <= section_width_mm(section.rotate(turn_deg).translate((3.3, 1.7))) < 1.07 * exact


def test_a_bar_twice_as_large_is_twice_as_wide():
    section, _ = SECTIONS["half a rod"]
    double = section_width_mm(section.scale((2.0, 2.0)))
    assert double == pytest.approx(2.0 * section_width_mm(section), rel=1e-6)


def test_two_lumps_on_a_thin_neck_are_as_wide_as_the_wider_one():
    lump = Section.circle(20.0, 128)
    neck = Section.square((60.0, 4.0)).translate((0.0, -2.0))
    both = lump + Section.circle(19.0, 128).translate((60.0, 0.0)) + neck
    assert rod_mm(40.0) <= section_width_mm(both) < 1.1 * rod_mm(40.0)


def test_a_thin_slab_is_told_from_the_safe_side():
    # the slab has few cells across: wider than it is, but no wider than a cell more
    found = section_width_mm(Section.square((10.0, 400.0)))
    assert 10.0 / math.hypot(1.0, 10.0 / 400.0) < found < 10.0 + 2.0 * math.sqrt(10.0 * 400.0 / 1e3)


def test_the_hollow_of_a_pillar_is_a_rod_less_the_shell_at_every_level():
    bore = standing(shapes.cylinder(40.0, 100.0, 256)).mesh
    pillar = bore.with_vertices(bore.vertices - [0.0, 0.0, bore.bounds[0][2]])
    depth, wide = level_widths(pillar, 4.0).T
    assert (depth[0], depth[-1]) == pytest.approx((0.0, 100.0))
    assert wide == pytest.approx(rod_mm(72.0), rel=0.03)
    assert (wide > rod_mm(72.0)).all()


def test_the_widest_of_several_pieces_counts_and_none_is_zero():
    both = shapes.joined(
        shapes.box((30, 30, 50)), shapes.box((20, 20, 50), (60, 0, 0)), shapes.box((4, 4, 90))
    )
    depth, wide = level_widths(both, 3.0).T
    low = depth <= 50.0
    assert wide[low] == pytest.approx(24.0 / math.sqrt(2.0), rel=0.05)
    assert (wide[~low] == 0.0).all()


def test_no_body_is_told_thinner_than_it_cools():
    # slab, cylinder and box are met exactly; a ball and a cone cool faster than is told
    assert slab_mm(25.0, math.inf) == 25.0
    for deep, across in ((20.0, 40.0), (60.0, 40.0), (40.0, 40.0)):
        exact = math.pi / math.hypot(math.pi / deep, 2.0 * BESSEL / across)
        assert slab_mm(deep, rod_mm(across)) == pytest.approx(exact)
    ball = math.pi * 20.0 / math.pi  # least k of a ball of radius r is (pi / r)^2
    assert ball < slab_mm(40.0, rod_mm(40.0)) < 1.1 * ball


@pytest.mark.parametrize("across", [26.0, 40.0, 46.0, 60.0, 100.0])
@pytest.mark.parametrize("cold", ["walls", "rubber"])
def test_a_deep_fill_in_a_stem_has_cooled_no_later_than_a_layer_of_the_class(across, cold):
    # from 143 to 40 in a room of 20 degrees: 0.163 of the rise is left. Middle of a slab of 25 mm
    # and of a cylinder as deep as it then may be: in rubber of the same diffusivity, as it stands
    # (Carslaw, Jaeger 1959, sections 2.2, 10.3), and between walls that stay cold (3.3, 7.6),
    # where the layer has a head start that does not grow
    side = 25.0**-2 - rod_mm(across) ** -2
    deep = side**-0.5 if side > 0.0 else math.inf
    thick, radius = 25.0, across / 2.0
    times = np.geomspace(10.0, 1e5, 4000) * 0.101  # diffusivity by seconds, in mm2

    def slab(mm):
        if not math.isfinite(mm):
            return np.ones_like(times)
        if cold == "rubber":
            return erf(mm / 4.0 / np.sqrt(times))
        odd = np.arange(1, 80, 2)[:, None]
        terms = np.sin(odd * math.pi / 2) / odd * np.exp(-((odd * math.pi / mm) ** 2) * times)
        return 4.0 / math.pi * terms.sum(axis=0)

    def rod(radius):
        if cold == "rubber":
            return 1.0 - np.exp(-(radius**2) / (4.0 * times))
        zero = jn_zeros(0, 40)[:, None]
        return (2.0 / (zero * j1(zero)) * np.exp(-((zero / radius) ** 2) * times)).sum(axis=0)

    layer, stem = slab(thick), slab(deep) * rod(radius)
    warm = 20.0 / 123.0
    last = times[np.flatnonzero(layer > warm)[-1]], times[np.flatnonzero(stem > warm)[-1]]
    assert last[1] <= (1.0 if cold == "rubber" else 1.25) * last[0]
    if cold == "walls":
        assert last[1] < thick**2 / 3.0  # long before the time that is told


WATER = ResinSheet(density_kg_m3=1000.0)


def fills_of(widths, **limits):
    """Return the fills of a hollow of 1 ml a mm, and as deep as the widths tell."""
    deepest = widths[-1][0]
    table = np.array([[0.0, 0.0], [deepest, deepest]])
    most_g, thick_mm = limits.get("most_g", 1e4), limits.get("thick_mm", 25.0)
    given = FillLimits(most_g, thick_mm, limits.get("deep_mm", math.inf), np.array(widths))
    return staged_fills(table, given, WATER, 0.1)


def test_a_stem_narrower_than_a_layer_is_filled_in_one():
    (fill,) = fills_of([[0.0, 24.0], [300.0, 24.0]])
    assert fill.thick_mm < 24.0
    assert fill.deep_mm == pytest.approx(300.0, rel=0.01)


def test_a_wide_mold_is_filled_in_layers_and_a_stem_in_deeper_ones():
    wide = fills_of([[0.0, 1e5], [100.0, 1e5]])
    assert [round(fill.deep_mm) for fill in wide] == [25, 25, 25, 25]
    # by 1 / 24^2 - 1 / 30^2 = 1 / 40^2: a bar as wide as a slab of 30 mm, 40 mm deep
    narrow = fills_of([[0.0, 30.0], [80.0, 30.0]], thick_mm=24.0)
    assert [fill.deep_mm for fill in narrow] == pytest.approx([39.8, 39.8], abs=0.3)
    assert max(fill.thick_mm for fill in narrow) <= 24.0 * (1 + 1e-6)


def test_a_fill_ends_where_the_hollow_gets_wide():
    # seen from the deep end: a stem of 60 mm, then a foot that one more layer fills
    fills = fills_of([[0.0, 1e5], [20.0, 1e5], [20.001, 20.0], [80.0, 20.0]])
    assert len(fills) == 2
    assert fills[0].to_mm_below_rim == pytest.approx(20.0, abs=0.01)


def test_the_depth_of_a_data_sheet_holds_in_the_narrowest_stem():
    fills = fills_of([[0.0, 10.0], [90.0, 10.0]], thick_mm=math.inf, deep_mm=30.0)
    assert [fill.deep_mm for fill in fills] == pytest.approx([30.0, 30.0, 30.0], abs=0.5)


def test_a_mass_holds_in_the_narrowest_stem():
    fills = fills_of([[0.0, 10.0], [90.0, 10.0]], most_g=46.0)
    assert [fill.g for fill in fills] == pytest.approx([45.0, 45.0], rel=1e-3)


def test_a_piece_with_a_stem_takes_fewer_fills_than_layers_and_none_is_thicker():
    profile = [(0, 0), (30, 0), (22, 20), (22, 120), (60, 121), (50, 160), (0, 175)]
    found = resin_of(standing(shapes.turned(profile, 96), RISER))
    depth = sum(fill.deep_mm for fill in found.fills)
    assert len(found.fills) < math.ceil(depth / 25.0)
    assert max(fill.thick_mm for fill in found.fills) <= 25.0 * (1 + 1e-6)
    assert max(fill.deep_mm for fill in found.fills) > 30.0
    assert found.heat.thickest_mm == max(fill.thick_mm for fill in found.fills)
    assert found.heat.deepest_mm == max(fill.deep_mm for fill in found.fills)
