"""The fields follow a scene that is set to imperial or metric units: inches then, not feet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..bridge.lengths import read_as_on_a_ruler
from ..bridge.sculpts import piece_of

if TYPE_CHECKING:
    import bpy


class Ruler:
    """Remembers what a scene was set to, for Blender tells nobody when that is changed."""

    def __init__(self) -> None:
        self._seen = (0, "")

    def follow(self, context: bpy.types.Context) -> None:
        """Show what is on a ruler when a scene with a piece was set to the other units just now.

        Who takes feet or meters after that wants them.
        """
        scene, seen = context.scene, self._seen
        self._seen = scene.session_uid, scene.unit_settings.system
        if seen[0] == self._seen[0] and seen != self._seen and piece_of(scene) is not None:
            read_as_on_a_ruler(scene)


ruler = Ruler()
"""The one there is, until Blender is closed."""
