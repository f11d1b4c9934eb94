"""The map of leans as a picture for the panel, made once for each layout."""

from __future__ import annotations

import bpy
import bpy.utils.previews
import numpy as np

from ..core.bubbles.lean_grid import lean_grid
from ..core.bubbles.result import Lean
from ..core.pictures.lean_colors import lean_pixels

PIXELS = 256


class LeanIcon:
    """Holds the last picture; Blender wants it back when the add-on goes."""

    def __init__(self) -> None:
        self._pictures: bpy.utils.previews.ImagePreviewCollection | None = None
        self._token = ""

    def number_of(self, found: bpy.types.PropertyGroup) -> int:
        """Return the number that a panel shows the map of the stored leans by."""
        if self._pictures is None or self._token != found.token:
            self.forget()
            self._pictures, self._token = bpy.utils.previews.new(), found.token
            picture = self._pictures.new("leans")
            picture.image_size = (PIXELS, PIXELS)
            picture.image_pixels_float = pixels_of(found).astype(np.float32).ravel().tolist()
        return self._pictures["leans"].icon_id

    def forget(self) -> None:
        """Give the picture back."""
        if self._pictures is not None:
            bpy.utils.previews.remove(self._pictures)
        self._pictures, self._token = None, ""


def pixels_of(found: bpy.types.PropertyGroup) -> np.ndarray:
    """Return the map of the stored leans (256, 256, 4), rows from below."""
    leans = [Lean(one.degrees, one.towards_deg, one.trapped_ml) for one in found.leans]
    return lean_pixels(lean_grid(leans, np.eye(4)), found.bubbles_trapped_ml, PIXELS)


lean_icon = LeanIcon()
