"""What a run hands back to the window."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..layout import Layout
    from .picture import Picture
    from .pour import Pour


@dataclass(frozen=True, eq=False)
class Laid:
    """The layout with a name of its own, and what the window would else have to work out itself.

    ``scan_mark`` tells which scan the triangles are counted by.
    """

    token: str
    layout: Layout
    picture: Picture
    scan_mark: str
    upright: Pour
    leaned: Pour | None
