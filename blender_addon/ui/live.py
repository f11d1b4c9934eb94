"""The layout follows the settings: looked at by a timer, laid out again when they have settled."""

from __future__ import annotations

import contextlib
from typing import Any

import bpy

from ..bridge.kept import kept
from ..bridge.outdated import outdated_stages
from ..bridge.properties import read_settings
from ..bridge.sculpts import piece_of
from ..core.errors import RiselineError
from .ruler import ruler

SECONDS_BETWEEN_LOOKS = 0.1
"""A change is laid out when two looks saw the same: a look takes less than a millisecond."""

SLOW = {"scan", "bubbles"}
"""Stages that are laid out again by the button only: a large scan takes seconds there."""


class Live:
    """What was seen last time, and what was tried."""

    def __init__(self) -> None:
        self._seen: Any = None
        self._tried: Any = None
        self.timer = self.tick  # Blender knows a timer by this very object: `self.tick` is ever new

    def tick(self) -> float:
        """Look, and lay out again if there is reason to; return when to look next."""
        ruler.follow(bpy.context)
        if self.is_due(bpy.context):
            with contextlib.suppress(RuntimeError):  # what is wrong stands in the panel
                bpy.ops.riseline.lay_out("INVOKE_DEFAULT", at_work=True)
        return SECONDS_BETWEEN_LOOKS

    def is_due(self, context: bpy.types.Context) -> bool:
        """Tell whether quick stages are out of date and no setting has changed since last time.

        What was tried once is not tried again until something changes.
        """
        stored = getattr(context.scene, "riseline", None)
        if stored is None or not stored.updates_live or kept.work or context.mode != "OBJECT":
            return False
        if piece_of(context.scene) is None:
            return False  # it was deleted: what is selected now is another
        stages = outdated_stages(context.scene) if kept.layout(stored.results.token) else ()
        if not stages or SLOW & set(stages):
            self._seen = None
            return False
        try:
            now = read_settings(context.scene), stored.results.restocked, stored.results.token
        except RiselineError:
            return False
        settled = now == self._seen and now != self._tried
        self._seen = now
        if settled:
            self._tried = now
        return settled

    def start(self) -> None:
        """Look from now on."""
        self._seen = self._tried = None
        if not bpy.app.background:
            bpy.app.timers.register(
                self.timer, first_interval=SECONDS_BETWEEN_LOOKS, persistent=True
            )

    def stop(self) -> None:
        """Look no more."""
        if bpy.app.timers.is_registered(self.timer):
            bpy.app.timers.unregister(self.timer)


live = Live()
"""The one there is, until Blender is closed."""
