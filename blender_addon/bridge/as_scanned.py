"""What the piece at work measures as it was scanned, for the field of a size nobody has typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..core.scan.size import MEASURED

if TYPE_CHECKING:
    from collections.abc import Sequence

    import bpy


class AsScanned:
    """Remembers the last piece that was measured.

    It is told of a piece before the fields of its size are drawn: so they need no measuring, which
    takes a second or two for a fine scan.
    """

    def __init__(self) -> None:
        self._scene = 0
        self._sizes_mm: dict[str, float] = {}

    def tell(self, scene: bpy.types.Scene, size_mm: Sequence[float]) -> None:
        """Keep the size (3,) of the piece at work once it stands; an empty one is not known."""
        self._scene = scene.session_uid
        self._sizes_mm = dict(zip(MEASURED, size_mm, strict=False))

    def length_mm(self, scene: bpy.types.Scene, name: str) -> float:
        """Return what it measures by the name of the setting; 0 where that is not known."""
        return self._sizes_mm.get(name, 0.0) if scene.session_uid == self._scene else 0.0

    def forget(self) -> None:
        """Drop it: another file is loaded, or the add-on goes."""
        self._sizes_mm = {}


as_scanned = AsScanned()
"""The one there is, until Blender is closed."""
