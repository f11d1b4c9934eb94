"""Worked examples of demolding: strain, lips, pull and suction, from closed forms."""

import numpy as np
import pytest

from blender_addon.core.constants.cut import HARD_PULL_N
from blender_addon.core.cut.marks import NO_MARKS
from blender_addon.core.cut.opening import lip_pull_n, most_suction_n, pull_word
from blender_addon.core.cut.settings import CutSettings
from blender_addon.core.cut.stretch import (
    moduli_mpa,
    modulus_mpa,
    stress_mpa,
    suction_n,
)
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased, cut_stage


def test_safe_and_torn_are_a_third_and_a_half_of_the_elongation():
    # common practice, no source; a rubber of 500 %
    settings = CutSettings(elongation_percent=500, safe_share_percent=100 / 3)
    found = cut_stage(cased(shapes.cylinder(20, 60), at=(0, 0)), NO_MARKS, settings, Watch())
    assert found.allowed_stretch == pytest.approx(1.667, abs=5e-4)
    assert pull_word(1.0, 1.0, torn=True) == "do not"


@pytest.mark.parametrize(
    ("shore", "young"),
    [(10, 0.4127), (15, 0.5629), (20, 0.7319), (25, 0.9235), (30, 1.142), (40, 1.690)],
)
def test_stiffness_follows_from_the_hardness(shore, young):
    assert modulus_mpa(shore) == pytest.approx(young, rel=5e-4)  # Gent 1958


@pytest.mark.parametrize(
    ("shore", "stresses"),
    [
        (20, (0.1728, 0.2575, 0.3473)),
        (10, (0.0974, 0.1452, 0.1958)),
        (30, (0.2697, 0.4019, 0.5420)),
    ],
)
def test_stress_is_neo_hookean(shore, stresses):
    # Treloar: (E / 3) (r - r**-2), with r = 1.3, 1.5, 1.75
    found = [stress_mpa(one, modulus_mpa(shore)) for one in (0.3, 0.5, 0.75)]
    assert found == pytest.approx(stresses, abs=6e-5)


@pytest.mark.parametrize(("stretch", "linear"), [(0.3, 0.2196), (0.5, 0.3660), (0.75, 0.5489)])
def test_a_straight_line_would_pull_harder_than_rubber_does(stretch, linear):
    # E e with E of hardness 20 by Gent 1958; both begin alike
    young = modulus_mpa(20)
    assert young * stretch == pytest.approx(linear, abs=6e-5)
    assert stress_mpa(stretch, young) < 0.8 * linear
    assert stress_mpa(1e-6, young) == pytest.approx(1e-6 * young, rel=1e-5)


def test_stress_takes_a_modulus_from_another_relation():
    # log10 E = 0.0235 S - 0.6403 for 20 < S < 80, attributed to Ruess; see Qi, Joyce, Boyce, Rubber
    # Chem. Technol. 76 (2003) 419
    young = 10 ** (0.0235 * 20 - 0.6403)
    assert young == pytest.approx(0.6756, abs=5e-5)
    assert stress_mpa(0.3, young) == pytest.approx(0.1595, abs=5e-5)


def test_a_vacuum_holds_no_more_than_the_air_presses():
    assert suction_n(6000.0) == pytest.approx(607.95, abs=0.005)  # 60 cm2, 101 325 Pa


@pytest.mark.parametrize("way", ["slit", "halves"])
def test_suction_is_that_of_the_piece_in_plan(way):
    part = shapes.turned([(0, 0), (10, 0), (10, 60), (35, 60), (35, 80), (0, 80)])
    found = cut_stage(cased(part, at=(0, 0)), NO_MARKS, CutSettings(way=way), Watch())
    area = np.pi * 35**2  # of the cap; 390 N at 101 325 Pa
    assert found.pull.suction_n == pytest.approx(area * 0.101325, rel=2e-3)
    assert found.pull.suction_n <= area * 0.101325


def test_gaps_between_legs_count_as_sealed():
    legs = [shapes.box((10, 10, 40), (x, 0, 0)) for x in (0, 50)]
    assert most_suction_n(shapes.joined(*legs)) == pytest.approx(600 * 0.101325)


def test_a_lip_of_15_by_30_at_a_half_pulls_116_newtons():
    assert lip_pull_n(0.5, 15.0, 20.0) == pytest.approx(115.9, abs=0.05)


def test_round_a_hole_the_pull_is_less_and_comes_near_the_lips_as_it_gets_wide():
    flat = lip_pull_n(0.5, 15.0, 20.0)
    pulls = [lip_pull_n(0.5, 15.0, 20.0, radius) for radius in (5, 20, 100, 1e5)]
    assert pulls == sorted(pulls)
    assert pulls[0] < 0.6 * flat
    assert pulls[-1] == pytest.approx(flat, rel=1e-3)


def test_round_a_hole_the_pull_is_the_integral_of_the_stress():
    # closed form: with a = r0, k = a**2 ((1 + e)**2 - 1), r' = sqrt(r**2 + k): the integral of r'/r
    # is r' - sqrt(k) artanh(sqrt(k) / r'), that of (r / r')**2 is r - sqrt(k) arctan(r / sqrt(k))
    a, b, root = 20.0, 35.0, 20.0 * np.sqrt(1.5**2 - 1)

    def ahead(r):
        grown = np.sqrt(r**2 + root**2)
        return grown - root * np.arctanh(root / grown) - r + root * np.arctan(r / root)

    exact = modulus_mpa(20.0) / 3 * (ahead(b) - ahead(a)) * 30.0
    assert lip_pull_n(0.5, 15.0, 20.0, 20.0) == pytest.approx(exact, rel=1e-4)


def test_words_go_with_the_pull():
    assert [pull_word(one, one, torn=False) for one in (10, 80, 81, 250, 251)] == [
        "easy", "easy", "hard", "hard", "do not",
    ]  # fmt: skip
    assert pull_word(79.0, 81.0, torn=False) == pull_word(249.0, 900.0, torn=False) == "hard"


@pytest.mark.parametrize(
    ("shore", "least", "most"),
    [
        # Gent 1958; log10 E = 0.0235 S - 0.6403 from 20 on; S = 100 erf(3.186e-4 sqrt(E)), from
        # memory
        (10, 0.0778, 0.4127), (20, 0.3162, 0.7319), (30, 0.7313, 1.161), (40, 1.355, 1.994),
    ],
)  # fmt: skip
def test_stiffness_is_bounded_by_three_relations(shore, least, most):
    assert moduli_mpa(shore) == pytest.approx((least, most), rel=5e-4)


@pytest.mark.parametrize("shore", [10.0, 20.0, 40.0])
def test_the_bounds_of_a_pull_are_those_of_the_stiffness(shore):
    pull = _vase_of(shore).pull
    least, most = moduli_mpa(shore)
    assert pull.least_n / pull.force_n == pytest.approx(least / modulus_mpa(shore))
    assert pull.most_n / pull.force_n == pytest.approx(most / modulus_mpa(shore))


def test_softer_classes_need_shorter_slits_and_less_force():
    profile = [(0, 0), (10, 0), (40, 100), (0, 100)]
    settings = CutSettings(least_slit_mm=5)
    found = cut_stage(cased(shapes.turned(profile), at=(0, 0)), NO_MARKS, settings, Watch())
    ends = [one.slit_to_mm for one in found.classes]
    assert len(ends) >= 4
    assert ends == sorted(ends)  # from soft to hard
    hardest = found.classes[-1]
    # closed form: the cone has 40 / (1 + allowed) for its radius there
    height = (40 / (1 + hardest.allowed_stretch) - 10) / 30 * 100 + 6.35
    assert hardest.slit_to_mm == pytest.approx(height, abs=1.0)
    assert all(one.word in {"easy", "hard", "do not"} for one in found.classes)


def _vase_of(shore):
    profile = [(0, 0), (20, 0), (20, 30), (30, 50), (30, 80), (0, 80)]
    settings = CutSettings(hardness_shore_a=shore, elongation_percent=300.0, way="slit")
    return cut_stage(
        cased(shapes.turned(profile, segments=48), at=(0, 0)), NO_MARKS, settings, Watch()
    )


def test_a_pull_that_is_too_much_for_a_person_is_told_with_what_helps():
    hard, soft = _vase_of(60.0), _vase_of(10.0)
    told = {one.code: one.text for one in hard.warnings}
    assert 0.0 < hard.pull.stretch <= hard.allowed_stretch
    assert hard.pull.force_n > HARD_PULL_N
    assert f"{hard.pull.least_n:.0f} to {hard.pull.most_n:.0f} N" in told["hard_to_open"]
    assert "or two halves" in told["hard_to_open"]
    assert soft.pull.force_n < HARD_PULL_N
    assert "hard_to_open" not in {one.code for one in soft.warnings}
