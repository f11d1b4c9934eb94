"""Rubber and resin as the pipeline works them out: each stage is two steps."""

from __future__ import annotations

from dataclasses import fields

import numpy as np

from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.resin.settings import ResinSettings
from blender_addon.core.resin.shell import cavity_in
from blender_addon.core.resin.stage import resin_stage
from blender_addon.core.rubber.settings import RubberSettings
from blender_addon.core.rubber.stage import room_stage, rubber_stage
from blender_addon.core.watch import Watch

RUBBER_PERCENT = 0.3


def rubber_of(bubbles, case, funnel, pots=(), **settings):
    """Return the rubber stage's result."""
    room = room_stage(bubbles, case, Watch())
    return rubber_stage(
        room, bubbles.prebrush_g, case, funnel, pots, RubberSettings(**settings), Watch()
    )  # fmt: skip


def resin_of(scan, **settings):
    """Return the resin stage's result; a cavity that was measured before is not measured again."""
    resin = ResinSettings(**settings)
    return resin_stage(scan, cavity_of(scan, resin.shell_mm), RUBBER_PERCENT, resin, Watch())


_CAVITIES = {}


def cavity_of(scan, shell_mm):
    """Return what a shell leaves open; of scans that are equal in every field it is sought once."""
    key = (shell_mm, *(_by_value(getattr(scan, one.name)) for one in fields(scan)))
    if key not in _CAVITIES:
        _CAVITIES[key] = cavity_in(scan, shell_mm, Watch())
    return _CAVITIES[key]


def _by_value(thing):
    """Return what is equal only where all of a thing is equal."""
    if isinstance(thing, Mesh):
        return _by_value(thing.vertices), _by_value(thing.faces)
    if isinstance(thing, tuple):
        return tuple(map(_by_value, thing))
    return (thing.shape, thing.tobytes()) if isinstance(thing, np.ndarray) else thing
