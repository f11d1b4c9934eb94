"""Outlines at a height."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from blender_addon.core.geometry.outline import outline_at
from tests import shapes


def area_mm2(line):
    x, y = line.T
    return (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def test_a_box_is_cut_in_its_rectangle():
    (line,) = outline_at(shapes.box((10.0, 20.0, 30.0), (1.0, 2.0, 3.0)), 10.0)
    assert area_mm2(line) == pytest.approx(200.0)
    assert line.min(axis=0).tolist() == [1.0, 2.0]


def test_a_lying_ring_is_cut_in_two_circles_the_inner_one_clockwise():
    inner, outer = sorted(area_mm2(line) for line in outline_at(shapes.torus(30.0, 10.0), 0.01))
    assert inner == pytest.approx(-pi * 20.0**2, rel=1e-3)
    assert outer == pytest.approx(pi * 40.0**2, rel=1e-3)


def test_a_plane_through_vertices_still_closes():
    lines = outline_at(shapes.sphere(10.0, 24), 0.0)
    assert len(lines) == 1
    assert area_mm2(lines[0]) == pytest.approx(pi * 100.0, rel=0.02)


def test_beside_the_mesh_there_is_none():
    assert outline_at(shapes.box((1.0, 1.0, 1.0)), 5.0) == []
