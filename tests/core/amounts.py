"""Rubber and resin as the pipeline works them out: each stage is two steps."""

from __future__ import annotations

from functools import lru_cache

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


@lru_cache(maxsize=32)
def cavity_of(scan, shell_mm):
    """Return what a shell leaves open; scans compare by identity."""
    return cavity_in(scan, shell_mm, Watch())
