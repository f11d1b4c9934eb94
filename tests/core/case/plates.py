"""Upright masters over a drawn outline, whose plan is that outline exactly."""

from __future__ import annotations

import numpy as np

from blender_addon.core.case.settings import CaseSettings
from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.stock import stock_of
from blender_addon.core.geometry.manifold import prism, to_mesh
from blender_addon.core.watch import Watch
from tests.core import scans


def plate(*outlines, height=60.0):
    """Return the upright solid over outlines, outer ones counter-clockwise."""
    return to_mesh(prism([np.asarray(outline, float) for outline in outlines], 0.0, height))


def ell(arm=80.0, breadth=30.0):
    """Return an L with its bay towards (+1, +1)."""
    return np.array(
        [(0, 0), (arm, 0), (arm, breadth), (breadth, breadth), (breadth, arm), (0, arm)], float
    )


def star(seed, corners=14):
    """Return a ragged star about the middle, with deep bays."""
    random = np.random.default_rng(seed)
    angle = 2 * np.pi * (np.arange(corners) + random.uniform(-0.3, 0.3, corners)) / corners
    radius = random.uniform(20.0, 80.0, corners)
    return np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])


def keyhole(radius=60.0, bay=20.0, off=30.0, slot=5.0, sides=96):
    """Return a round plan with a round bay that a narrow slot towards +x joins to the outside."""
    whole = 2 * np.pi * np.arange(1, sides) / sides
    gap = np.arcsin(slot / radius)
    rim = np.linspace(gap, 2 * np.pi - gap, sides)
    throat = np.arcsin(slot / bay)
    inner = np.concatenate([[-throat], -whole[(whole > throat) & (whole < 2 * np.pi - throat)]])
    inner = np.concatenate([inner, [throat - 2 * np.pi]])
    outside = radius * np.column_stack([np.cos(rim), np.sin(rim)])
    inside = [off, 0.0] + bay * np.column_stack([np.cos(inner), np.sin(inner)])
    return np.vstack([outside, inside])


def in_tube(folder, mesh, inner_mm, **asked):
    """Return the case of a mesh where the list has one tube only."""
    path = folder / "one.toml"
    path.write_text(f"[[tube]]\nname='one'\ninner_diameter_mm={inner_mm}\nwall_mm=3\n", "utf-8")
    settings = CaseSettings(stock_file=str(path), **asked)
    return case_stage(scans.standing(mesh), stock_of(settings), settings, Watch())
