"""Seams, base and master are held with what the pressure asks for."""

from __future__ import annotations

import math

import numpy as np
import pytest

from blender_addon.core.case.bore import Bore, round_bore
from blender_addon.core.rubber.forces import forces_at
from blender_addon.core.rubber.holding import (
    band_heights_mm,
    bands_needed,
    holding_of,
    leak_ml_min,
    sealed_lift_n,
)

# rubber of 1200 kg/m3, 300 mm high in a bore of 160 mm; a master of one litre
FORCES = forces_at(round_bore(160.0), 300.0, 1000.0, 1200.0)


def held(master_kg_m3=1600.0, *, printed=False, forces=FORCES):
    return holding_of(
        forces, 300.0, 5.0, 1000.0, 4000.0, 6.0, 1200.0, master_kg_m3, 20.0, printed=printed
    )


@pytest.mark.parametrize(
    ("count", "by_hand"),
    [(2, (41.4, 158.6)), (3, (26.6, 88.9, 184.5)), (4, (19.6, 63.2, 117.2, 200.0))],
)
def test_bands_stand_where_each_takes_its_share(count, by_hand):
    # centroids of strips of equal push under a pressure that grows with depth: closed form
    assert band_heights_mm(300.0, count) == pytest.approx(by_hand, abs=0.05)


def test_each_band_takes_the_same_by_summing_the_pressure():
    z = (np.arange(300_000) + 0.5) / 1000
    push = 300.0 - z
    heights = band_heights_mm(300.0, 4)
    order = np.argsort(-z)
    share = np.cumsum(push[order]) / push.sum()
    strips = [z[order][(share > k / 4) & (share <= (k + 1) / 4)] for k in range(4)]
    means = sorted(np.average(one, weights=300.0 - one) for one in strips)
    assert heights == pytest.approx(means, abs=0.01)


def test_tape_is_wrapped_until_it_bears_twice_the_pull():
    # 2 x 42.36 N over 48 N for each turn of 48 mm tape at 1 N/mm: 1.77, so 2
    assert FORCES.seam_pull_n == pytest.approx(42.36, abs=0.01)
    assert bands_needed(FORCES.seam_pull_n) == 2
    assert bands_needed(48.0) == 2
    assert bands_needed(48.1) == 3
    assert bands_needed(0.1) == 2  # one band lets the seams gape


def test_seams_and_base_are_held_for_twice_what_pulls():
    assert held().seam_n == pytest.approx(84.73, abs=0.01)
    assert held().base_n == pytest.approx(2 * 70.98, abs=0.02)


@pytest.mark.parametrize(
    ("master_kg_m3", "net_n"), [(1600.0, -3.92), (1800.0, -5.88), (40.0, 11.38)]
)
def test_clay_stays_and_foam_floats(master_kg_m3, net_n):
    found = held(master_kg_m3)
    assert found.net_lift_n == pytest.approx(net_n, abs=0.005)
    assert found.hold_down_n == pytest.approx(2 * max(net_n, 0), abs=0.01)
    assert ("It floats" in found.lines[-1]) == (net_n > 0)


def test_hollow_clay_floats_below_a_share_of_solid():
    # air in clay of 1600 kg/m3 under rubber of 1200: three quarters
    assert held().hollow_share == pytest.approx(0.75)
    assert "75 %" in held().lines[-1]
    # a hollow ball of radius 60 and a wall of 22.20 mm is neutral: closed form
    inner = 60 * (1 - held().hollow_share) ** (1 / 3)
    assert 60 - inner == pytest.approx(22.20, abs=0.005)


def test_a_sealed_foot_takes_its_column_off_the_lift():
    # ball of radius 50 cut flat at a contact radius of 20, its foot 250 mm deep: 520.94 ml
    foot_mm2 = math.pi * 20**2
    assert sealed_lift_n(1200.0, 520.94, foot_mm2, 250.0) == pytest.approx(2.433, abs=0.001)
    assert sealed_lift_n(1200.0, 520.94, 0.0, 250.0) == pytest.approx(6.130, abs=0.001)


@pytest.mark.parametrize(("gap_mm", "ml_min"), [(0.1, 0.0265), (0.2, 0.2118), (0.4, 1.695)])
def test_an_open_seam_leaks_by_the_flow_between_plates(gap_mm, ml_min):
    found = leak_ml_min(gap_mm, 5.0, 300.0, 1200.0, 20.0)
    assert found == pytest.approx(ml_min, rel=2e-3)
    assert held().leak_ml_min == pytest.approx(0.2118, rel=1e-3)


def test_lines_say_what_to_hold_with_and_where():
    floor, base, seams, master = held().lines
    assert "3.53 kPa" in floor
    assert "hold the base with at least 142 N" in base
    assert "42.4 N" in seams
    assert "2 bands of 48 mm cloth tape" in seams
    assert "41, 159 mm above the board" in seams
    assert "11.8 N" in master
    assert "flanges" in held(printed=True).lines[2]
    assert "for at least 23 N" in held(40.0).lines[-1]


@pytest.mark.parametrize("turn_deg", [0.0, 25.0])
def test_push_on_an_outline_is_the_pressure_summed_over_its_walls(turn_deg):
    angle = np.linspace(0, 2 * np.pi, 400, endpoint=False)
    turn = np.radians(turn_deg)
    oval = np.column_stack([90 * np.cos(angle), 55 * np.sin(angle)])
    oval = oval @ [[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]
    bore = Bore(oval)
    forces = forces_at(bore, 300.0, 1000.0, 1200.0)
    ahead = np.roll(oval, -1, axis=0)
    upper = (oval[:, 1] + ahead[:, 1]) > 0
    push = (oval[:, 0] - ahead[:, 0])[upper].sum() * 1e-3 * 1200 * 9.80665 * 0.3**2 / 2
    assert 2 * forces.seam_pull_n == pytest.approx(push, rel=0.01)
    assert forces.base_push_n == pytest.approx(1200 * 9.80665 * 0.3 * bore.area_mm2 * 1e-6)
