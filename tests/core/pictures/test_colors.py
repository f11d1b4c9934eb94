"""The colours of the brush map: told apart by every eye, and on a grey clay."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from skimage.color import deltaE_ciede2000, rgb2lab

from blender_addon.core.pictures.classes import CLASS_COLORS, THICKNESS_COLORS
from blender_addon.core.pictures.lean_colors import linear
from blender_addon.core.pictures.raster import srgb_bytes

EYES = {
    "usual": np.eye(3),
    # Machado, Oliveira, Fernandes: A physiologically-based model for simulation of color vision
    # deficiency, IEEE Transactions on Visualization and Computer Graphics 15(6), 2009, table at
    # full strength, for linear light.
    "no red cones": np.array([
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ]),
    "no green cones": np.array([
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]),
    "no blue cones": np.array([
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ]),
}  # fmt: skip
"""What each eye makes of linear red, green and blue."""

GREY_CLAY = np.array([0.214, 0.214, 0.214])
"""Linear; a middle grey, L* 53: common practice, no source."""

LEAST_APART = 10.0
"""Colour difference by CIEDE2000 (ISO/CIE 11664-6): 1 is just seen side by side, 10 at a glance."""


def seen(linear_rgb, eye):
    """Return what an eye sees, as L*, a*, b* (n, 3)."""
    light = np.clip(np.asarray(linear_rgb) @ EYES[eye].T, 0.0, 1.0)
    return rgb2lab(srgb_bytes(light)[None] / 255.0)[0]


@pytest.mark.parametrize("eye", EYES)
def test_the_matrices_leave_grey_as_it_is(eye):
    # whoever sees fewer colours sees grey like others
    assert EYES[eye].sum(axis=1) == pytest.approx(1.0, abs=1e-5)


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("ground", ["Plain", "grey clay"])
def test_every_class_is_told_from_every_other_and_from_the_ground(eye, ground):
    colors = {kind: color for kind, color in CLASS_COLORS.items() if kind != "Plain"}
    colors["ground"] = CLASS_COLORS["Plain"] if ground == "Plain" else GREY_CLAY
    lab = dict(zip(colors, seen(list(colors.values()), eye), strict=True))
    apart = {
        (one, other): float(deltaE_ciede2000(lab[one], lab[other]))
        for one, other in itertools.combinations(lab, 2)
    }
    assert min(apart.values()) > LEAST_APART, min(apart, key=apart.get)


@pytest.mark.parametrize("eye", EYES)
def test_the_map_of_leans_grows_evenly_darker(eye):
    lightness = seen(linear(np.linspace(0.0, 1.0, 11)), eye)[:, 0]
    steps = -np.diff(lightness)
    assert steps.min() > 3.0  # each tenth is seen
    assert steps.max() < 3.0 * steps.min()


@pytest.mark.parametrize("eye", EYES)
def test_every_two_bands_of_the_rubber_s_thickness_are_told_apart(eye):
    lab = dict(zip(THICKNESS_COLORS, seen(list(THICKNESS_COLORS.values()), eye), strict=True))
    for one, other in itertools.combinations(lab, 2):
        assert deltaE_ciede2000(lab[one], lab[other]) > LEAST_APART, (one, other)
