"""Names that people give: as long as they like, and to be read where there is little room."""

from __future__ import annotations

import blf
import bpy

FONT = 0  # Blender's own
DOTS = "…"
LEAST_LETTERS = 8
"""Of a shortened name: with fewer it tells nothing."""


def shortened(text: str, room_px: float, size_pt: float) -> str:
    """Return a text as it is, or without its middle where it is wider than that.

    Two scans or tubes often begin alike, and often end alike: so both ends stay.

    Parameters
    ----------
    text : str
    room_px : float
    size_pt : float
        Of the letters, in pixels.
    """
    blf.size(FONT, size_pt)
    fitting = text
    for letters in range(len(text) - 1, LEAST_LETTERS - 1, -1):
        if blf.dimensions(FONT, fitting)[0] <= room_px:
            break
        fitting = without_middle(text, letters)
    return fitting


def without_middle(text: str, letters: int) -> str:
    """Return a text with so many letters at the most, dots for its middle among them.

    Examples
    --------
    >>> without_middle("dragon 2026-11-03 second try, cleaned", 16)
    'dragon 2…cleaned'
    >>> without_middle("dragon", 16)
    'dragon'
    """
    if len(text) <= letters:
        return text
    ends = letters - len(DOTS)
    first = (ends + 1) // 2
    return f"{text[:first].rstrip()}{DOTS}{text[len(text) - (ends - first) :].lstrip()}"


def panel_letters_pt() -> float:
    """Return the size of the letters on Blender's panels, in pixels at a scale of 1."""
    return float(bpy.context.preferences.ui_styles[0].widget.points)
