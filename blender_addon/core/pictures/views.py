"""Where the eye stands: below, and on the four sides of the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats

Direction = tuple[float, float, float]


@dataclass(frozen=True)
class View:
    """A name, a title, and what of the job frame points right and up; the eye is square to both."""

    name: str
    title: str
    right: Direction
    up: Direction

    @property
    def axes(self) -> Floats:
        """Right, up and towards the eye as rows (3, 3): times a place gives it in the picture."""
        return np.array([self.right, self.up, np.cross(self.right, self.up)], dtype=np.float64)


VIEWS = (
    View("below", "From below, the pour channel's side down", (1, 0, 0), (0, -1, 0)),
    View("front", "From the front, the pour channel behind", (1, 0, 0), (0, 0, 1)),
    View("back", "From the back, where the pour channel is", (-1, 0, 0), (0, 0, 1)),
    View("left", "From the left, the pour channel to the left", (0, -1, 0), (0, 0, 1)),
    View("right", "From the right, the pour channel to the right", (0, 1, 0), (0, 0, 1)),
)
"""Left and right are those of who stands before the front."""
